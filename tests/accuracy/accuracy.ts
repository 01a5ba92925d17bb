import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { FAULT_KINDS, type GeneratedCase, simulateCase } from '../support/simulate.ts';
import { SIX, type Verdict, verdictsOn } from './assess.ts';
import { falseAlarms, isClear, kindsInTurn, outcomeOf } from './outcome.ts';
import { type Row, table } from './table.ts';

const MISSES_ALLOWED_IN_200 = 2;
/** Every eighth car is logged slowly. */
const SLOW_RATES = [1, 2, 4, 5];

const { values: options } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    cars: { type: 'string', default: '216' },
    case: { type: 'string' },
    write: { type: 'string' },
  },
});
const cars = Number(options.cars);
const say = (line: string) => process.stdout.write(`${line}\n`);

const slowRate = (car: number) =>
  car % 8 === 7 ? { rateHz: SLOW_RATES[(car >> 3) % SLOW_RATES.length] as number } : {};
const cleanCar = (car: number) => simulateCase({ seed: `${options.seed}.${car}`, ...slowRate(car) });
const faultyCar = (car: number) =>
  simulateCase({
    seed: `${options.seed}.f${car}`,
    fault: kindsInTurn(car),
    level: Math.floor(car / FAULT_KINDS.length) % 2 === 0 ? 'warn' : 'fail',
    ...slowRate(car),
  });

function write(generated: GeneratedCase, folder: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, generated.name), generated.bytes);
  writeFileSync(join(folder, 'pullgate.map.json'), generated.mappingText);
  writeFileSync(join(folder, 'pullgate.build.json'), generated.buildText);
  const { truth, fault, logger, layout } = generated;
  writeFileSync(join(folder, 'truth.json'), `${JSON.stringify({ truth, fault, logger, layout }, undefined, 2)}\n`);
}

const describeCase = (generated: GeneratedCase, verdicts: ReadonlyMap<string, Verdict>) =>
  `${generated.id}: ${SIX.map((id) => `${id} ${verdicts.get(id)}`).join(', ')}; ${generated.logger.polling} ${generated.logger.rateHz} Hz`;

function judgeClean(): { rows: Row[]; alarms: number } {
  const counts = new Map(SIX.map((id) => [id as string, { pass: 0, alarm: 0, none: 0 }]));
  let alarms = 0;
  for (let car = 0; car < cars; car++) {
    const generated = cleanCar(car);
    const verdicts = verdictsOn(generated);
    for (const id of SIX) {
      const count = counts.get(id) as { pass: number; alarm: number; none: number };
      const verdict = verdicts.get(id);
      if (verdict === 'pass') count.pass++;
      else if (verdict === 'warn' || verdict === 'fail') count.alarm++;
      else count.none++;
    }
    const wrong = falseAlarms(verdicts);
    if (wrong.length === 0) continue;
    alarms++;
    say(`  false alarm  ${describeCase(generated, verdicts)}`);
  }
  return { rows: [...counts].map(([id, c]) => [id, c.pass, c.none, c.alarm]), alarms };
}

function judgeFaulty(): { rows: Row[]; misses: number; unclear: number } {
  const counts = new Map<string, { caught: number; slow: number; missed: number }>();
  let misses = 0;
  let unclear = 0;
  for (let car = 0; car < cars; car++) {
    const generated = faultyCar(car);
    const kind = kindsInTurn(car);
    const count = counts.get(kind) ?? { caught: 0, slow: 0, missed: 0 };
    counts.set(kind, count);
    if (!isClear(generated)) {
      unclear++;
      say(`  not a clear fault: ${generated.id}, true measure ${generated.fault?.truth}`);
      continue;
    }
    const verdicts = verdictsOn(generated);
    const outcome = outcomeOf(generated, verdicts);
    if (outcome === 'caught') count.caught++;
    else if (outcome === 'too-slow') count.slow++;
    else {
      count.missed++;
      misses++;
      say(
        `  missed  ${describeCase(generated, verdicts)}; true ${generated.fault?.truth.toFixed(2)}, limit ${generated.fault?.limit}`,
      );
    }
  }
  return { rows: [...counts].map(([kind, c]) => [kind, c.caught, c.slow, c.missed]), misses, unclear };
}

/** A case by its id, such as `clean-1.40` or `creep-fail-1.f26`. */
function one(id: string): void {
  const number = /\.(f?)(\d+)$/.exec(id);
  if (!number) throw new Error(`${id} is no case id; they look like clean-1.40 or creep-fail-1.f26`);
  const generated = (number[1] === 'f' ? faultyCar : cleanCar)(Number(number[2]));
  if (generated.id !== id) throw new Error(`with seed ${options.seed} that car is ${generated.id}`);
  if (options.write) write(generated, options.write);
  say(describeCase(generated, verdictsOn(generated)));
}

if (options.case) {
  one(options.case);
} else {
  say(`Healthy cars (${cars})`);
  const clean = judgeClean();
  say(table(['analyser', 'pass', 'not assessed', 'false alarm'], clean.rows));
  say(`Cars with one clear fault (${cars})`);
  const faulty = judgeFaulty();
  say(table(['fault', 'caught', 'log too slow', 'missed'], faulty.rows));
  const allowed = Math.floor((MISSES_ALLOWED_IN_200 * cars) / 200);
  say(
    `False alarms ${clean.alarms} (bar 0). Misses ${faulty.misses} (bar ${allowed}). Faults that were not clear ${faulty.unclear} (bar 0).`,
  );
  if (clean.alarms > 0 || faulty.misses > allowed || faulty.unclear > 0) process.exitCode = 1;
}
