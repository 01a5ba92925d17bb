import { parseArgs } from 'node:util';
import type { NextStepId } from '../../src/drive/next-step/type.ts';
import { measureStep } from './step-measures.ts';
import { table } from './table.ts';

const { values: options } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    cars: { type: 'string', default: '200' },
    long: { type: 'boolean', default: false },
    each: { type: 'boolean', default: false },
  },
});
const cars = Number(options.cars);
const say = (line: string) => process.stdout.write(`${line}\n`);

const DUTY_POINTS = 3;
const DUTY_SHARE = 0.95;
const COVERS = [0.85, 0.97] as const;
const TORQUE_SHARE = 0.08;

/** Errors of one measure over all cars. */
interface Tally {
  readonly errors: number[];
  covered: number;
  high: number;
}

const tally = (): Tally => ({ errors: [], covered: 0, high: 0 });
const within = ({ errors }: Tally, size: number) => errors.filter((e) => Math.abs(e) <= size).length;

function count(to: Tally, error: number, truth: number, low: number, high: number): void {
  to.errors.push(error);
  if (truth >= low && truth <= high) to.covered++;
  if (truth > high) to.high++;
}

const projected = { duty: tally(), 'charge-temperature': tally(), torque: tally() };
const torque = { airflow: tally(), acceleration: tally() };
let unsettled = 0;
for (let car = 0; car < cars; car++) {
  const { step, airflowNm, accelerationNm, answer } = measureStep({
    seed: `${options.seed}.n${car}`,
    short: !options.long,
  });
  const truthNm = step.now.torquePeakNm;
  if (airflowNm !== undefined) torque.airflow.errors.push(airflowNm / truthNm - 1);
  if (accelerationNm !== undefined) torque.acceleration.errors.push(accelerationNm / truthNm - 1);
  if (!answer) {
    unsettled++;
    continue;
  }
  const told: string[] = [];
  const of = (id: NextStepId) => answer.projections.find((p) => p.id === id)?.next;
  for (const [id, truth, scale] of [
    ['duty', step.next.dutyPeakPercent, 1],
    ['charge-temperature', step.next.chargePeakC, 1],
    ['torque', step.next.torquePeakNm, step.next.torquePeakNm],
  ] as const) {
    const next = of(id);
    if (!next) continue;
    count(projected[id], (next.value - truth) / scale, truth, next.low, next.high);
    told.push(
      `${id} ${next.value.toFixed(1)} (${next.low.toFixed(1)} to ${next.high.toFixed(1)}), true ${truth.toFixed(1)}`,
    );
  }
  if (options.each) {
    const source = answer.projections.find((p) => p.id === 'duty')?.reasoning[2] ?? '';
    say(
      `${car} ${step.generated.logger.polling} ${step.generated.logger.rateHz} Hz, settled ${answer.settledKpa.toFixed(1)}, step ${step.stepKpa.toFixed(1)}: ${told.join('; ')} ${source}`,
    );
  }
}

const percent = (n: number, of: number) => (of === 0 ? '-' : `${((100 * n) / of).toFixed(1)} %`);
const largest = ({ errors }: Tally) => Math.max(0, ...errors.map(Math.abs));
const mean = ({ errors }: Tally) => errors.reduce((sum, e) => sum + e, 0) / Math.max(1, errors.length);

say(`Torque by each route (${cars} cars): share within ${100 * TORQUE_SHARE} % of the truth`);
say(
  table(
    ['route', 'cars', 'within', 'mean error', 'largest'],
    Object.entries(torque).map(([id, t]) => [
      id,
      t.errors.length,
      percent(within(t, TORQUE_SHARE), t.errors.length),
      `${(100 * mean(t)).toFixed(1)} %`,
      `${(100 * largest(t)).toFixed(1)} %`,
    ]),
  ),
);
say(`Next step (${cars} cars, ${unsettled} without settled boost)`);
say(
  table(
    ['projection', 'cars', 'within', '90 % interval holds the truth', 'truth above it', 'mean error', 'largest'],
    Object.entries(projected).map(([id, t]) => [
      id,
      t.errors.length,
      percent(within(t, id === 'torque' ? TORQUE_SHARE : DUTY_POINTS), t.errors.length),
      percent(t.covered, t.errors.length),
      t.high,
      mean(t).toFixed(3),
      largest(t).toFixed(3),
    ]),
  ),
);
const { duty } = projected;
const n = duty.errors.length;
const close = within(duty, DUTY_POINTS) / n;
const covers = duty.covered / n;
say(
  `Duty within ${DUTY_POINTS} points: ${percent(within(duty, DUTY_POINTS), n)} (bar ${100 * DUTY_SHARE} %). Interval: ${percent(duty.covered, n)} (bar ${100 * COVERS[0]} to ${100 * COVERS[1]} %).`,
);
if (n < 0.9 * cars || close < DUTY_SHARE || covers < COVERS[0] || covers > COVERS[1]) process.exitCode = 1;
if (Object.values(torque).some((t) => within(t, TORQUE_SHARE) < DUTY_SHARE * t.errors.length)) process.exitCode = 1;
