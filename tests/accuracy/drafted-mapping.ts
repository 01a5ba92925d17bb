import { parseArgs } from 'node:util';
import { FAULT_KINDS, simulateCase } from '../support/simulate.ts';
import { compareDrafted } from './drafted.ts';

const { values: options } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    cars: { type: 'string', default: '108' },
    tell: { type: 'boolean', default: false },
  },
});
const say = (line: string) => process.stdout.write(`${line}\n`);
const cars = Number(options.cars);
/** Share of cases in which a drafted mapping must lead to the same verdicts. */
const SAME_LEAST = 0.95;

let same = 0;
let wrongPasses = 0;
let falseDoubts = 0;
for (let car = 0; car < cars; car++) {
  const isFaulty = car % 2 === 1;
  const generated = simulateCase({
    seed: `${options.seed}.m${car}`,
    ...(isFaulty && { fault: FAULT_KINDS[(car >> 1) % FAULT_KINDS.length], level: 'fail' as const }),
  });
  const result = compareDrafted(generated);
  if (result.different.length === 0) same++;
  wrongPasses += result.wrongPasses.length;
  falseDoubts += result.falseDoubts.length;
  for (const doubt of result.falseDoubts) say(`  false doubt  ${generated.id}: ${doubt}`);
  if (result.different.length > 0) {
    say(
      `  ${generated.id}: ${result.different.map((d) => `${d.id} ${d.truth} became ${d.drafted}`).join(', ')}; left out ${result.leftOut.join(', ') || 'nothing'}`,
    );
    for (const note of options.tell ? result.questions : []) say(`      ${note}`);
  }
}
say(
  `Same verdicts ${same} of ${cars} (bar ${Math.ceil(SAME_LEAST * cars)}). Passes in place of a fail ${wrongPasses} (bar 0). False doubts about units ${falseDoubts} (bar 0).`,
);
if (same < SAME_LEAST * cars || wrongPasses > 0 || falseDoubts > 0) process.exitCode = 1;
