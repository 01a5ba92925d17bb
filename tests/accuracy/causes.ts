import { parseArgs } from 'node:util';
import { assessLog } from '../../src/run/assess-log.ts';
import { FAULT_KINDS, type GeneratedCase, simulateCase } from '../support/simulate.ts';
import { isExpectedCause, wrongSigns } from './cause-truth.ts';
import { outcomeOf } from './outcome.ts';
import { table } from './table.ts';

const RIGHT_AT_LEAST = 0.9;

const { values: options } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    cars: { type: 'string', default: '90' },
    show: { type: 'boolean', default: false },
  },
});
const cars = Number(options.cars);
const say = (line: string) => process.stdout.write(`${line}\n`);

const reportOn = (generated: GeneratedCase) =>
  assessLog({
    name: generated.name,
    chunks: [generated.bytes],
    mapping: { text: generated.mappingText, name: 'pullgate.map.json' },
    build: { text: generated.buildText, name: 'pullgate.build.json' },
    version: 'accuracy',
  });

const counts = new Map<string, { right: number; wrong: number; unseen: number }>();
let suggested = 0;
let wrong = 0;
for (let car = 0; car < cars; car++) {
  const kind = FAULT_KINDS[car % FAULT_KINDS.length] as (typeof FAULT_KINDS)[number];
  const generated = simulateCase({
    seed: `${options.seed}.c${car}`,
    fault: kind,
    level: Math.floor(car / FAULT_KINDS.length) % 2 === 0 ? 'fail' : 'warn',
    short: true,
  });
  const report = reportOn(generated);
  const signs = wrongSigns(generated, report);
  suggested += signs.suggested;
  wrong += signs.wrong.length;
  for (const line of signs.wrong) say(`  wrong sign  ${generated.id}: ${line}`);
  const count = counts.get(kind) ?? { right: 0, wrong: 0, unseen: 0 };
  counts.set(kind, count);
  const verdicts = new Map(report.analysers.map(({ id, verdict }) => [id, verdict]));
  const causes = report.causes ?? [];
  if (outcomeOf(generated, verdicts) !== 'caught') {
    count.unseen++;
    continue;
  }
  if (isExpectedCause(generated, causes[0]?.id)) count.right++;
  else {
    count.wrong++;
    say(`  not first  ${generated.id}: ${causes.map(({ id, score }) => `${id} ${score}`).join(', ') || 'no cause'}`);
    if (options.show) say(JSON.stringify(causes.slice(0, 3), undefined, 1));
  }
}
const all = [...counts.values()];
const right = all.reduce((sum, count) => sum + count.right, 0);
const judged = right + all.reduce((sum, count) => sum + count.wrong, 0);
say(
  table(
    ['fault', 'cause first', 'another first', 'fault not seen'],
    [...counts].map(([kind, c]) => [kind, c.right, c.wrong, c.unseen]),
  ),
);
say(
  `Right cause first in ${right} of ${judged} (bar ${100 * RIGHT_AT_LEAST} %). Corrections suggested ${suggested}, with the wrong sign ${wrong} (bar 0).`,
);
if (right < RIGHT_AT_LEAST * judged || wrong > 0) process.exitCode = 1;
