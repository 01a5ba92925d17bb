import { normalFrom } from './seeded-random.ts';

/** What a made-up car does in a made-up base run: idle, cruise and pulls in random order. */
type Deed = {
  readonly fromS: number;
  readonly untilS: number;
  readonly kind: 'idle' | 'cruise' | 'pull';
  readonly a: number;
};

export const SIGNALS = {
  boost: { step: 1, noise: 0.4 },
  speed: { step: 0.25, noise: 4 },
  lambda: { step: 0.001, noise: 0.003 },
  throttle: { step: 0.392157, noise: 0.15 },
  trim: { step: 0.78125, noise: 0.1 },
  coolant: { step: 1, noise: 0.15 },
  warmUp: { step: 1, noise: 0.02 },
  intake: { step: 1, noise: 0.02 },
} as const;
export type SignalKind = keyof typeof SIGNALS;

function planRun(uniform: () => number, durationS: number): Deed[] {
  const deeds: Deed[] = [];
  for (let t = 0; t < durationS; ) {
    const draw = uniform();
    const kind = draw < 0.3 ? 'idle' : draw < 0.75 ? 'cruise' : 'pull';
    const length = kind === 'idle' ? 15 + 40 * uniform() : kind === 'cruise' ? 10 + 30 * uniform() : 4 + 4 * uniform();
    deeds.push({ fromS: t, untilS: t + length, kind, a: uniform() });
    t += length;
  }
  return deeds;
}

/** Where the signal is heading and how slowly (time constant, s), before sensor noise and rounding. */
function heading(kind: SignalKind, deed: Deed, t: number, wander: number): [target: number, lagS: number] {
  const into = t - deed.fromS;
  const by = (idle: number, cruise: number, pull: number) => ({ idle, cruise, pull })[deed.kind];
  switch (kind) {
    case 'boost':
      return [by(35, 50 + 30 * deed.a + 8 * wander, 220 + 20 * deed.a + 3 * into), 0.45];
    case 'speed':
      return [by(850 + 10 * wander, 2200 + 1000 * deed.a + 60 * wander, 2500 + 700 * into), 0.25];
    case 'lambda':
      return [by(1, 1, 0.8) + by(1, 1, 0) * (0.02 * Math.sin(7.5 * t) + 0.01 * wander), 0.15];
    case 'throttle':
      return [by(0, 15 + 10 * deed.a + 2 * wander, 100), 0.08];
    case 'trim':
      return [3 * wander, 0.3];
    case 'coolant':
      return [92 + 2 * Math.sin(t / 60) + 0.3 * wander, 120];
    case 'warmUp':
      return [200, 600];
    case 'intake':
      return [by(30, 30, 60), 25];
  }
}

/** The true signal at any time up to `durationS`, on a grid much finer than any log. */
export function trueSignal(kind: SignalKind, uniform: () => number, durationS: number): (t: number) => number {
  const normal = normalFrom(uniform);
  const deeds = planRun(uniform, durationS);
  const gridS = 0.01;
  const grid = new Float64Array(Math.ceil(durationS / gridS) + 2);
  let wander = 0;
  let deed = 0;
  for (let i = 0; i < grid.length; i++) {
    const t = i * gridS;
    while (deed < deeds.length - 1 && t >= deeds[deed].untilS) deed++;
    wander += (-wander * gridS) / 2 + Math.sqrt(gridS) * normal();
    const [target, lagS] = heading(kind, deeds[deed], t, wander);
    if (i === 0) grid[0] = kind === 'warmUp' ? 20 : kind === 'coolant' ? 60 : target;
    else grid[i] = grid[i - 1] + ((target - grid[i - 1]) * gridS) / Math.max(lagS, gridS);
  }
  return (t) => grid[Math.min(grid.length - 1, Math.max(0, Math.round(t / gridS)))];
}

interface LogStyle {
  readonly rowHz: number;
  readonly durationS: number;
  /** Rows between polls; need not be whole. 1 means a new value at every row. */
  readonly heldRows: number;
  /** Row times off their grid by up to half this share of a row. */
  readonly jitter: number;
  readonly step: number;
  readonly noise: number;
}

/** Logs a true signal: polled on its own clock, rounded to the scale's step, repeated at every row until the next poll. */
export function logSignal(signal: (t: number) => number, uniform: () => number, style: LogStyle) {
  const normal = normalFrom(uniform);
  const n = Math.floor(style.durationS * style.rowHz);
  const time = new Float64Array(n);
  const values = new Float64Array(n);
  let poll = -1;
  let last = Number.NaN;
  for (let i = 0; i < n; i++) {
    time[i] = (i + style.jitter * (uniform() - 0.5)) / style.rowHz;
    // A whole number of rows is a poll by row count; anything else is a poll by a clock of its own.
    const rowsSoFar = Number.isInteger(style.heldRows) ? i : time[i] * style.rowHz + 0.3;
    const pollNow = Math.floor(rowsSoFar / style.heldRows);
    if (pollNow !== poll) {
      poll = pollNow;
      last = Math.round((signal(time[i]) + style.noise * normal()) / style.step) * style.step;
    }
    values[i] = last;
  }
  return { time, values };
}
