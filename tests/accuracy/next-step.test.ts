import { describe, expect, it } from 'vitest';
import { measureStep } from './step-measures.ts';

const TIMEOUT_MS = 120_000;

// A few of the cars that tests/accuracy/next-step.ts measures in numbers.
describe('generated cars whose torque and duty are known', () => {
  it.each([0, 3, 9])('car %d', { timeout: TIMEOUT_MS }, (car) => {
    const { step, airflowNm, accelerationNm, answer } = measureStep({ seed: `1.n${car}`, short: true });
    const truthNm = step.now.torquePeakNm;
    expect(airflowNm ?? accelerationNm).toBeDefined();
    if (airflowNm !== undefined) expect(Math.abs(airflowNm / truthNm - 1)).toBeLessThan(0.08);
    if (accelerationNm !== undefined) expect(Math.abs(accelerationNm / truthNm - 1)).toBeLessThan(0.08);
    const duty = answer?.projections.find((p) => p.id === 'duty')?.next;
    expect(Math.abs((duty?.value ?? 0) - step.next.dutyPeakPercent)).toBeLessThan(3);
  });
});
