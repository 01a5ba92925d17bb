import type { Build } from '../build-sheet/build.ts';
import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import type { RailReference, Regulator } from '../drive/rail/regulator.ts';
import type { Rail } from '../drive/rail/series.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Finding } from './finding.ts';
import { flowLossPercent } from './fuel-pressure-words.ts';
import { limitShown, limitWords } from './wording.ts';

export const BASE = 'fuel-pressure.base';
export const REFERENCE = 'fuel-pressure.reference';

const kpa = (value: number) => formatQuantity(value, 'kPa');
const percent = (value: number) => formatQuantity(value, '%');

/** How the regulator works against what the build sheet says; told apart from the fall itself. */
export function regulatorFinding(drive: Drive, regulator: Regulator, build: Build): Finding | undefined {
  const sheet = build.injectors.regulator;
  if (!regulator.seen) return undefined;
  const isSilent = sheet === undefined && regulator.seen === 'fixed';
  const verdict = regulator.contradicts || isSilent ? 'warn' : 'pass';
  const slope = regulator.slope ?? Number.NaN;
  return {
    id: REFERENCE,
    verdict,
    title:
      verdict === 'pass'
        ? `The regulator is ${regulator.seen}`
        : isSilent
          ? 'Rail pressure does not follow the manifold, and the build sheet does not say that it should not'
          : `The regulator acts as ${regulator.seen}, the build sheet says ${sheet}`,
    measured: { value: slope, unit: 'ratio', low: regulator.slopeLow, high: regulator.slopeHigh },
    ...(verdict === 'warn'
      ? { limit: { unit: 'ratio', source: 'common practice, no source: 1 is manifold-referenced, 0 is fixed' } }
      : {}),
    reasoning: [
      regulator.note,
      ...(verdict === 'warn'
        ? [
            'Without manifold reference boost takes from the pressure across the injector: at 100 kPa of boost and 300 kPa set, a third of the pressure and 18 % of the flow.',
          ]
        : []),
    ],
    where: verdict === 'warn' ? [{ start: 0, end: drive.recording.durationS }] : [],
    ...(verdict === 'pass'
      ? {
          detectable:
            'A rail that follows the manifold by less than 0.65 or more than 1.35 kPa per kPa would have shown.',
        }
      : {}),
    causes:
      verdict === 'warn'
        ? [
            {
              cause: 'Reference hose off, split or blocked',
              for: regulator.seen === 'fixed' ? ['rail pressure stays put'] : [],
              against: [],
            },
            { cause: 'The build sheet does not describe the regulator that is fitted', for: [], against: [] },
            {
              cause: 'The logged pressure is relative to the manifold',
              for: regulator.seen === 'fixed' ? ['such a reading also stays put'] : [],
              against: [],
            },
          ]
        : [],
    next:
      verdict === 'warn'
        ? ['Look at the regulator and its hose, then put injectors.regulator into the build sheet as fitted.']
        : [],
  };
}

/**
 * Pressure at rest against the build sheet's: every injector figure stands on it. It is read as the regulator acts, whatever the sheet calls it:
 * with the hose off the set pressure stands in the rail, and the differential at idle is higher by the manifold's vacuum alone.
 */
export function baseFinding(
  drive: Drive,
  build: Build,
  rail: Rail,
  regulator: Regulator,
  reference: RailReference,
  limit: Limit,
): Finding | undefined {
  const set = build.injectors.fuelPressureKpa;
  if (set === undefined || rail.isDirect || reference.from === 'build sheet') return undefined;
  const isFixed = (regulator.seen ?? regulator.taken) === 'fixed';
  const actual = isFixed ? reference.railKpa : reference.differentialKpa;
  if (!Number.isFinite(actual)) return undefined;
  const gap = 100 * (actual / set - 1);
  const verdict = judge(Math.abs(gap), limit);
  return {
    id: BASE,
    verdict,
    title:
      verdict === 'pass'
        ? 'Pressure at rest is that of the build sheet'
        : `Pressure at rest is ${percent(Math.abs(gap))} ${gap < 0 ? 'below' : 'above'} the build sheet's`,
    measured: { value: Math.abs(gap), unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      `${isFixed ? 'Rail pressure' : 'Pressure across the injector'} at ${reference.from} is ${kpa(actual)} (median of ${reference.samples} readings), the build sheet sets ${kpa(set)}: ${percent(gap)}, ${limitWords(limit)}.`,
      `Injector flow is then ${percent(Math.abs(flowLossPercent(set, actual)))} ${gap < 0 ? 'less' : 'more'} than reckoned.`,
    ],
    where: verdict === 'pass' ? [] : [{ start: 0, end: drive.recording.durationS }],
    ...(verdict === 'pass'
      ? {
          detectable: `A pressure at rest that is off by ${percent(limit.warn ?? limit.fail ?? 100)} would have shown.`,
        }
      : {}),
    causes:
      verdict === 'pass'
        ? []
        : [
            { cause: 'injectors.fuelPressure in the build sheet is not what is fitted', for: [], against: [] },
            {
              cause: 'Regulator or pump is weak already at idle',
              for: gap < 0 ? ['pressure is below the set one at rest'] : [],
              against: [],
            },
          ],
    next:
      verdict === 'pass'
        ? []
        : ['Measure fuel pressure with a mechanical gauge at idle, hose off and on, and put it into the build sheet.'],
  };
}
