import type { Build } from '../../build-sheet/build.ts';
import type { LimitTable } from '../../build-sheet/limit.ts';
import { injectorDutyPercent } from '../../engine/injector-duty.ts';
import { flowAtPressure } from '../../engine/orifice-flow.ts';
import { formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import type { Drive } from '../drive.ts';
import { injectorDutyOf } from '../duty/choice.ts';
import { deadTimeAt, dutyAtBoost } from '../duty/next-step.ts';
import { type DutyPeak, dutyPeak } from '../duty/peak.ts';
import { dutyRestsOn } from '../duty/rests-on.ts';
import { froze } from '../health/frozen.ts';
import { airRatio, manifoldNear, type StepBasis } from './basis.ts';
import { limitFrom } from './limit.ts';
import { type Interval90, type ProjectorAnswer, Z90 } from './type.ts';

const DUTY = { id: 'duty', title: 'Injector duty' } as const;
const FLOW = { id: 'fuel-flow', title: 'Fuel flow of all injectors' } as const;

/** The highest duty of each usable pull, or what is missing for it. */
function peaksOf(
  drive: Drive,
  build: Build,
): readonly DutyPeak[] | { readonly why: string; readonly needs: readonly string[] } {
  const answer = injectorDutyOf(drive, build);
  if (answer.kind === 'missing') {
    return {
      why: 'Duty is neither logged nor can it be reckoned.',
      needs: ['injector_pulse_width', ...answer.missing],
    };
  }
  if (answer.kind === 'unbelievable') {
    return { why: 'The logged duty is too small to be true.', needs: ['injector_pulse_width'] };
  }
  const { duty } = answer.choice;
  const restsOn = dutyRestsOn(drive, build, duty.source);
  const peaks = drive.pulls
    .filter((pull) => pull.usable && pull.fitness.duty.ok && !froze(drive, restsOn, pull))
    .map((pull) => dutyPeak(drive, duty, pull))
    .filter((peak) => peak !== undefined);
  return peaks.length > 0 ? peaks : { why: 'No usable pull shows duty.', needs: ['a full-load pull'] };
}

const highest = (intervals: readonly Interval90[]) => intervals.reduce((a, b) => (b.value > a.value ? b : a));

/** Peak duty: open time less dead time grows with air mass, and with the root of what boost takes from a fixed fuel pressure. */
export function dutyProjector(drive: Drive, build: Build, limits: LimitTable, basis: StepBasis): ProjectorAnswer {
  const peaks = peaksOf(drive, build);
  if (!('length' in peaks)) return { ok: false, ...DUTY, ...peaks };
  if (manifoldNear(drive, peaks[0].atS) === undefined) {
    return { ok: false, ...DUTY, why: 'Manifold pressure is not logged.', needs: ['manifold_pressure'] };
  }
  const empty: Interval90 = {
    value: Number.POSITIVE_INFINITY,
    low: Number.POSITIVE_INFINITY,
    high: Number.POSITIVE_INFINITY,
  };
  const at = (boostKpa: number) =>
    highest(peaks.map((peak) => dutyAtBoost(drive, build, peak, basis, boostKpa) ?? empty));
  const top = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const own = (half: number) => (half * Z90) / 1.96;
  return {
    ok: true,
    projector: {
      ...DUTY,
      unit: '%',
      now: { value: top.value, low: top.value - own(top.value - top.low), high: top.value + own(top.high - top.value) },
      at,
      limit: limitFrom(limits, 'injector-duty.peak'),
      basis: [
        `Highest ${formatQuantity(top.value, '%')} at ${groupThousands(top.rpm)} rpm in pull ${top.pull.id}; open time less dead time grows with the air mass${build.injectors.regulator === 'fixed' ? ', and a fixed fuel pressure loses what boost gains' : ''}.`,
        deadTimeAt(drive, build, top.atS).note,
      ],
    },
  };
}

/** Fuel through all injectors at the peak of duty, cc/min: open share × static flow at the pressure across them. */
export function fuelFlowProjector(drive: Drive, build: Build, basis: StepBasis): ProjectorAnswer {
  const { flowCcMin, ratedPressureKpa, fuelPressureKpa, regulator, pulsesPerCycle } = build.injectors;
  const [rated, set] = [ratedPressureKpa ?? fuelPressureKpa, fuelPressureKpa ?? ratedPressureKpa];
  if (flowCcMin === undefined || rated === undefined || set === undefined) {
    return {
      ok: false,
      ...FLOW,
      why: 'The build sheet does not give the injectors.',
      needs: [flowCcMin === undefined ? 'injectors.flow' : 'injectors.ratedPressure'],
    };
  }
  const peaks = peaksOf(drive, build);
  if (!('length' in peaks)) return { ok: false, ...FLOW, ...peaks };
  const top = peaks.reduce((a, b) => (b.value > a.value ? b : a));
  const manifoldKpa = manifoldNear(drive, top.atS);
  if (manifoldKpa === undefined) {
    return { ok: false, ...FLOW, why: 'Manifold pressure is not logged.', needs: ['manifold_pressure'] };
  }
  const across = regulator === 'fixed' ? set + drive.recording.barometric.kpa - manifoldKpa : set;
  const dead = injectorDutyPercent(deadTimeAt(drive, build, top.atS).ms, top.rpm, pulsesPerCycle, build.engine.strokes);
  const full = (build.engine.cylinders * flowAtPressure(flowCcMin, rated, across)) / 100;
  const now = full * Math.max(0, top.value - dead);
  const half = (Z90 / 1.96) * full * ((top.high - top.low) / 2);
  return {
    ok: true,
    projector: {
      ...FLOW,
      unit: 'cc/min',
      now: { value: now, low: now - half, high: now + half },
      at: (boostKpa) => {
        const { ratio, sigma } = airRatio(basis, manifoldKpa, boostKpa);
        const wide = Math.hypot(Z90 * now * sigma, half * ratio);
        return { value: now * ratio, low: now * ratio - wide, high: now * ratio + wide };
      },
      limit: undefined,
      basis: [
        `${build.engine.cylinders} injectors of ${formatQuantity(flowCcMin, 'cc/min')} at ${formatQuantity(rated, 'kPa')}, with ${formatQuantity(across, 'kPa')} across them; the sheet names no pump, so nothing limits it here: hold it against the pump's flow at that pressure.`,
      ],
    },
  };
}
