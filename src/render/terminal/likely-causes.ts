import type { Report } from '../../report/report-schema.ts';
import type { Paint } from './paint.ts';
import { wrap } from './wrap.ts';

const INDENT = '      ';
const TOLD_IN_FULL = 3;

/** The best supported causes in full; the rest, with what speaks against them, in a line each. */
export function likelyCauses({ causes = [] }: Report, width: number, paint: Paint): string[] {
  const full = causes.filter(({ standing }) => standing !== 'unlikely').slice(0, TOLD_IN_FULL);
  const rest = causes.filter((cause) => !full.includes(cause));
  return [
    ...full.flatMap((cause, i) => [
      ...wrap(`${cause.cause}: ${cause.standing}, ${points(cause.score)}.`, width, {
        first: `${String(i + 1).padStart(3)}. `,
        rest: INDENT,
      }).map(paint.strong),
      ...lines('Why', [cause.physics], width),
      ...lines('For', cause.for, width),
      ...lines('Against', cause.against, width),
      ...lines('Not known', cause.open, width),
      ...lines(
        'Check',
        cause.next.map(({ step, cost }) => `(${cost}) ${step}`),
        width,
      ),
    ]),
    ...rest.flatMap((cause) =>
      wrap(
        `${cause.standing === 'unlikely' ? 'Unlikely' : 'Also possible'}: ${cause.cause}, ${points(cause.score)}. ${[
          ...cause.for.map((text) => `For: ${text}`),
          ...cause.against.map((text) => `Against: ${text}`),
        ].join(' ')}`,
        width,
        { first: '  - ', rest: '    ' },
      ),
    ),
  ];
}

const points = (score: number) => `${score} point${Math.abs(score) === 1 ? '' : 's'}`;

function lines(name: string, texts: readonly string[], width: number): string[] {
  const head = `${INDENT}${`${name}:`.padEnd(11)}`;
  return texts.flatMap((text, i) =>
    wrap(text, width, { first: i === 0 ? head : ' '.repeat(head.length), rest: ' '.repeat(head.length) }),
  );
}
