import fc from 'fast-check';

/** What can happen to the bytes of a file on its way from the logger. */
export type Damage =
  | { readonly kind: 'flip'; readonly at: number; readonly mask: number }
  | { readonly kind: 'cut'; readonly at: number; readonly length: number }
  | { readonly kind: 'repeat'; readonly at: number; readonly length: number; readonly times: number }
  | { readonly kind: 'splice'; readonly at: number; readonly piece: string };

const share = fc.double({ min: 0, max: 1, noNaN: true });

const PIECES = [
  '"',
  '""',
  ',',
  ';',
  '\t',
  '\n',
  '\r',
  '\0',
  '#',
  ' ',
  '\xff\xfe',
  '1e999',
  '-',
  'NaN',
  '\x1b[2J',
  '((((',
];

const damage: fc.Arbitrary<Damage> = fc.oneof(
  fc.record({ kind: fc.constant('flip' as const), at: share, mask: fc.integer({ min: 1, max: 255 }) }),
  fc.record({ kind: fc.constant('cut' as const), at: share, length: fc.integer({ min: 1, max: 300 }) }),
  fc.record({
    kind: fc.constant('repeat' as const),
    at: share,
    length: fc.integer({ min: 1, max: 60 }),
    times: fc.integer({ min: 1, max: 30 }),
  }),
  fc.record({ kind: fc.constant('splice' as const), at: share, piece: fc.constantFrom(...PIECES) }),
);

export const anyDamage = fc.array(damage, { minLength: 1, maxLength: 4 });

function damagedBy(whole: Buffer, one: Damage): Buffer {
  const at = Math.floor(one.at * whole.length);
  const before = whole.subarray(0, at);
  switch (one.kind) {
    case 'flip': {
      const flipped = Buffer.from(whole);
      if (at < flipped.length) flipped[at] ^= one.mask;
      return flipped;
    }
    case 'cut':
      return Buffer.concat([before, whole.subarray(at + one.length)]);
    case 'repeat': {
      const piece = whole.subarray(at, at + one.length);
      return Buffer.concat([before, ...Array.from({ length: one.times }, () => piece), whole.subarray(at)]);
    }
    case 'splice':
      return Buffer.concat([before, Buffer.from(one.piece, 'latin1'), whole.subarray(at)]);
  }
}

/** The bytes after the damage, in order; places are shares of the length. */
export function damaged(bytes: Buffer, damages: readonly Damage[]): Buffer {
  return damages.reduce(damagedBy, bytes);
}
