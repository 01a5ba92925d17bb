import type { Build } from '../../build-sheet/build.ts';
import type { LimitTable } from '../../build-sheet/limit.ts';
import { formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import { robustSpread } from '../../signal/robust-spread.ts';
import type { Drive } from '../drive.ts';
import { retardOf } from '../retard/series.ts';
import { highestTorque, torqueEstimate } from '../torque/estimate.ts';
import { airRatio, chargeRiseK, heatRatio, manifoldNear, type StepBasis } from './basis.ts';
import { limitFrom } from './limit.ts';
import { type ProjectorAnswer, Z90 } from './type.ts';

const CHARGE = { id: 'charge-temperature', title: 'Charge temperature at the end of a pull' } as const;
const TORQUE = { id: 'torque', title: 'Highest torque' } as const;
const KNOCK = { id: 'knock', title: 'Knock retard' } as const;
const BOOST = { id: 'peak-boost', title: 'Peak boost' } as const;

/** Peak charge temperature: the rise within the pull grows with the heat of compression. */
export function chargeProjector(limits: LimitTable, basis: StepBasis): ProjectorAnswer {
  const { charges } = basis;
  if (charges.length === 0) {
    const needs = ['charge_air_temperature', 'intake_air_temperature'];
    return { ok: false, ...CHARGE, why: 'No charge temperature is logged in the pulls.', needs };
  }
  const top = charges.reduce((a, b) => (b.peakC > a.peakC ? b : a));
  const scatter = charges.length > 1 ? robustSpread(charges.map((c) => c.riseK)) : 0;
  const own = (Z90 / 1.96) * Math.max(top.high - top.peakC, top.peakC - top.low);
  const rises = `The rise of ${formatQuantity(top.riseK, 'K')} in pull ${top.pull.id} is taken to grow with the heat of compression; a longer pull or a hotter day adds to it.`;
  const onlyIntake = basis.chargeId === 'intake_air_temperature';
  return {
    ok: true,
    projector: {
      ...CHARGE,
      unit: 'degC',
      now: { value: top.peakC, low: top.peakC - own, high: top.peakC + own },
      at: (boostKpa) => {
        const grows = heatRatio(basis, boostKpa) - 1;
        const { sigmaK } = chargeRiseK(basis, boostKpa);
        const value = top.peakC + Math.max(0, top.riseK) * grows;
        const wide = Math.hypot(own, Z90 * Math.hypot(sigmaK, scatter));
        return { value, low: value - wide, high: value + wide };
      },
      limit: limitFrom(limits, 'charge-temperature.peak'),
      basis: onlyIntake
        ? [
            rises,
            'Only intake air temperature is logged: where its sensor sits before the compressor it does not show the charge.',
          ]
        : [rises],
    },
  };
}

/** Highest torque: grows with the air mass at its own engine speed. */
export function torqueProjector(drive: Drive, build: Build, limits: LimitTable, basis: StepBasis): ProjectorAnswer {
  const { pulls, routes } = torqueEstimate(drive, build);
  const top = highestTorque(pulls);
  if (!top) {
    const needs = [routes.airflow, routes.acceleration].flatMap((route) => (route.ok ? [] : route.missing));
    return { ok: false, ...TORQUE, why: 'Torque is known by neither route.', needs: [...new Set(needs)] };
  }
  const { peak, pull } = top;
  const manifoldKpa = manifoldNear(drive, peak.atS) ?? basis.barometricKpa + basis.settledKpa;
  const spread = (sigma: number) => Math.exp(Z90 * sigma);
  const share = limitFrom(limits, 'torque.peak');
  const { torqueLimitNm } = build.bottomEnd;
  return {
    ok: true,
    projector: {
      ...TORQUE,
      unit: 'N m',
      now: { value: peak.nm, low: peak.nm / spread(peak.relativeSigma), high: peak.nm * spread(peak.relativeSigma) },
      at: (boostKpa) => {
        const { ratio, sigma } = airRatio(basis, manifoldKpa, boostKpa);
        const value = peak.nm * ratio;
        const times = spread(Math.hypot(peak.relativeSigma, sigma / ratio));
        return { value, low: value / times, high: value * times };
      },
      limit:
        torqueLimitNm === undefined
          ? undefined
          : {
              value: (torqueLimitNm * (share?.value ?? 100)) / 100,
              source: `build sheet, bottomEnd.torqueLimit${share ? `, at ${share.value} % of it (${share.source})` : ''}`,
            },
      basis: [
        `${formatQuantity(peak.nm, 'N m')} at ${groupThousands(peak.rpm)} rpm in pull ${pull.id} (${peak.by}); it grows with the air mass, timing and mixture left as they are.`,
      ],
    },
  };
}

/** Retard that boost may ask of an engine at its knock limit, deg for each 10 kPa, timing tables left alone. Common practice, no source. */
const DEG_PER_10_KPA = { usual: 0.7, least: 0.3, most: 1.4 } as const;

/** Largest knock retard: known to grow where there is some; where there is none, only the worst case can be told. */
export function knockProjector(drive: Drive, build: Build, limits: LimitTable, basis: StepBasis): ProjectorAnswer {
  const retard = retardOf(drive, build);
  if (retard.tracks.length === 0 || retard.judgedPulls.length === 0) {
    const needs = ['knock_retard', 'spark_advance'];
    return { ok: false, ...KNOCK, why: 'No knock retard is logged in a usable pull.', needs };
  }
  const sizes = retard.events.filter((event) => event.kind === 'knock').map((event) => event.peakDeg);
  const now = Math.max(0, ...sizes);
  const scatter = sizes.length > 1 ? robustSpread(sizes) : now > 0 ? 0.3 * now : 0;
  const limit = limitFrom(limits, 'timing-pull.peak');
  const margin = limit ? ` That leaves ${formatQuantity(Math.max(0, limit.value - now), 'deg')} to the limit.` : '';
  return {
    ok: true,
    projector: {
      ...KNOCK,
      unit: 'deg',
      now: { value: now, low: Math.max(0, now - Z90 * scatter), high: now + Z90 * scatter },
      at: (boostKpa) => {
        const tens = Math.max(0, boostKpa - basis.settledKpa) / 10;
        const value = now > 0 ? now + DEG_PER_10_KPA.usual * tens : 0;
        const low = now > 0 ? now + DEG_PER_10_KPA.least * tens - Z90 * scatter : 0;
        return { value, low: Math.max(0, low), high: now + DEG_PER_10_KPA.most * tens + Z90 * scatter };
      },
      limit,
      basis: [
        now > 0
          ? `Largest knock retard now ${formatQuantity(now, 'deg')} (${sizes.length} event${sizes.length === 1 ? '' : 's'}).${margin} At the knock limit each 10 kPa asks for about ${DEG_PER_10_KPA.usual}° more (${DEG_PER_10_KPA.least}° to ${DEG_PER_10_KPA.most}°; common practice, no source).`
          : `No knock retard was seen, so how far the knock limit lies above this boost no log without knock can tell. The upper end is that of an engine that is at the limit now: ${DEG_PER_10_KPA.most}° for each 10 kPa (common practice, no source).`,
      ],
    },
  };
}

/** Peak of the first rise: the overshoot of the log goes up with the level. Held against the ceiling. */
export function peakBoostProjector(build: Build, basis: StepBasis): ProjectorAnswer {
  const { ceilingKpa } = build.boost;
  if (ceilingKpa === undefined) {
    return { ok: false, ...BOOST, why: 'The build sheet names no ceiling.', needs: ['boost.ceiling'] };
  }
  const over = basis.pulls.map(({ peak }) => Math.max(0, peak.boostKpa - basis.settledKpa) / basis.settledKpa);
  const most = Math.max(0, ...over);
  const noise = Math.max(...basis.pulls.map((p) => p.trace.noiseKpa));
  const scatter = over.length > 1 ? robustSpread(over) : 0.3 * most;
  const at = (boostKpa: number) => {
    const value = boostKpa * (1 + most);
    const wide = Z90 * Math.hypot(basis.sigmaKpa, noise, boostKpa * scatter);
    return { value, low: value - wide, high: value + wide };
  };
  return {
    ok: true,
    projector: {
      ...BOOST,
      unit: 'kPa',
      now: at(basis.settledKpa),
      at,
      limit: { value: ceilingKpa, source: 'build sheet, boost.ceiling' },
      basis: [
        `The highest boost of the pulls was ${formatQuantity(100 * most, '%')} above the settled level; the same share is taken at the next step.`,
      ],
    },
  };
}
