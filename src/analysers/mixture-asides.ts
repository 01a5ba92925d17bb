import { judge, type Limit } from '../build-sheet/limit.ts';
import type { Drive } from '../drive/drive.ts';
import { deliveredMixture } from '../drive/mixture/delivered.ts';
import type { MixturePull } from '../drive/mixture/pull.ts';
import { cleanLambda } from '../drive/mixture/samples.ts';
import { loggedTarget } from '../drive/mixture/target.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { DataTable, Finding } from './finding.ts';
import { frozenClause, livePulls } from './frozen-pulls.ts';
import type { MixtureInput } from './mixture-findings.ts';
import { limitShown, limitWords, pullPlace, rpmWords, withInterval } from './wording.ts';

export const AGREEMENT = 'mixture.agreement';
export const TARGET = 'mixture.target';

const ratio = (value: number) => formatQuantity(value, 'ratio');
const percent = (value: number) => formatQuantity(value, '%');
const seconds = (value: number) => formatQuantity(value, 's');

/** This much richer than asked is worth telling; it costs power and washes oil, it does not burn pistons. Common practice, no source. */
const RICH = 0.03;

/** Richer than asked: told, never a fault. */
export function richFinding({ pulls, drive }: MixtureInput): Finding | undefined {
  const judged = pulls.flatMap((pull) => (pull.error ? [{ pull, lowest: pull.error.lowest }] : []));
  if (judged.length === 0) return undefined;
  const worst = judged.reduce((a, b) => (b.lowest.value < a.lowest.value ? b : a));
  const { value, low, high, atS, rpm, lambda } = worst.lowest;
  if (value > -RICH) return undefined;
  const floor = drive.recording.channels.get('lambda')?.min ?? 0;
  const atFloor = lambda <= floor + 0.005;
  return {
    id: 'mixture.rich-error',
    verdict: 'pass',
    title: `Mixture ${ratio(-value)} richer than asked at ${rpmWords(rpm)}`,
    measured: { value, unit: 'ratio', low, high },
    reasoning: [
      `Pull ${worst.pull.pull.id}: lambda ${ratio(lambda)} against ${ratio(lambda - value)} asked at ${rpmWords(rpm)} (${seconds(atS)}), held 0.2 s.`,
      ...(atFloor
        ? [
            `That is the richest reading of the whole log: if the sensor ends there, the true mixture is that or richer.`,
          ]
        : []),
      'Rich costs power and fuel and may wash oil off the bores; it is not the dangerous side, so it does not warn.',
    ],
    where: [pullPlace(worst.pull.pull, atS, atS, [rpm, rpm])],
    detectable: `A mixture ${ratio(RICH)} richer than asked, held 0.2 s, is told.`,
    causes: [],
    next: ['Take the fuel table down in small steps at those engine speeds, once nothing else is open.'],
  };
}

/** What the controller asked for against what the build sheet wants. */
export function targetFinding({ drive, build, target }: MixtureInput, limit: Limit): Finding | undefined {
  const asked = loggedTarget(drive);
  const wanted = build.fullLoadLambda;
  if (target?.from !== 'lambda_target' || asked === undefined || wanted === undefined) return undefined;
  const gap = asked - wanted;
  const verdict = judge(gap, limit);
  if (verdict === 'pass') return undefined;
  return {
    id: TARGET,
    verdict,
    title: `The controller asks for ${ratio(asked)} where the build sheet wants ${ratio(wanted)}`,
    measured: { value: gap, unit: 'ratio' },
    limit: limitShown(limit),
    reasoning: [
      `The logged target is ${ratio(asked)} in the pulls (median), the build sheet's full-load lambda ${ratio(wanted)}: ${ratio(gap)} leaner, ${limitWords(limit)}.`,
    ],
    where: drive.pulls.filter((pull) => pull.usable).map((pull) => pullPlace(pull)),
    causes: [],
    next: ['Settle which is right: the target table of the calibration or mixture.fullLoadLambda in the build sheet.'],
  };
}

/** Channels that the delivered fuel and air are reckoned from. */
const DELIVERED_BY = ['injector_pulse_width', 'mass_air_flow', 'manifold_pressure', 'fuel_rail_pressure'] as const;

/** Measured mixture against pulse width, injector flow and airflow. */
export function agreementFinding({ drive, build, pulls }: MixtureInput, limit: Limit): Finding | undefined {
  const live = livePulls(drive, pulls, DELIVERED_BY, ({ pull }) => pull);
  const answer = deliveredMixture(drive, build, live.pulls);
  if (!answer.ok) return undefined;
  const {
    ratio: over,
    computed,
    measured,
    trendPercent,
    trendLow,
    trendHigh,
    rpm,
    samples,
    airKnown,
    notes,
  } = answer.delivered;
  const gap = 100 * (over - 1);
  const fits = judge(Math.abs(gap), limit) === 'pass';
  const verdict = fits || !airKnown ? 'pass' : 'warn';
  const leaner = gap > 0;
  const trend =
    Math.abs(trendPercent) >= 3 && trendLow * trendHigh > 0
      ? `Over the pulls it moves by ${withInterval(trendPercent, trendLow, trendHigh, '%')} from ${rpmWords(rpm[0])} to ${rpmWords(rpm[1])}: ${trendPercent > 0 ? 'the top gets less fuel, or more air, than reckoned' : 'the top gets more fuel, or less air, than reckoned'}.`
      : `It keeps over engine speed (${withInterval(trendPercent, trendLow, trendHigh, '%')}).`;
  return {
    id: AGREEMENT,
    verdict,
    title: fits
      ? 'Measured mixture fits the fuel and air delivered'
      : 'Measured mixture does not fit the fuel and air delivered',
    measured: { value: Math.abs(gap), unit: '%' },
    limit: limitShown(limit),
    reasoning: [
      ...notes,
      ...live.said,
      `Air over fuel comes to lambda ${ratio(computed)} in the pulls, measured were ${ratio(measured)} (medians of ${samples} readings): ${percent(gap)}, ${limitWords(limit)}.`,
      trend,
      'Airflow, injector flow, pressure and dead time are good to about 10 % together, so this is a check of the numbers and not of the mixture.',
      ...(fits || airKnown
        ? []
        : [
            'The volumetric efficiency is assumed, so the difference is told and not judged: put engine.volumetricEfficiency into the build sheet.',
          ]),
    ],
    where: verdict === 'pass' ? [] : live.pulls.map(({ pull }) => pullPlace(pull)),
    ...(fits
      ? { detectable: `A disagreement of ${percent(limit.warn ?? limit.fail ?? 100)} or more would have shown.` }
      : {}),
    causes:
      verdict === 'pass'
        ? []
        : [
            {
              cause: leaner
                ? 'Less fuel arrives than commanded: pressure, a blocked filter or injector'
                : 'More fuel arrives than reckoned: pressure or injector flow above what the sheet says',
              for: [],
              against: [],
            },
            {
              cause: leaner
                ? 'More air goes in than reckoned: volumetric efficiency in the sheet too low, airflow meter under-reads'
                : 'Less air goes in than reckoned: volumetric efficiency in the sheet too high',
              for: [],
              against: [],
            },
            {
              cause: 'Injector flow, dead time, fuel blend or pulsesPerCycle in the build sheet is wrong',
              for: [],
              against: [],
            },
          ],
    next:
      verdict === 'pass'
        ? []
        : [
            'Check injector flow, dead time, fuel blend and volumetric efficiency in the build sheet.',
            'Measure fuel pressure under load.',
          ],
  };
}

/** One row a pull. */
export function mixtureTable(drive: Drive, measured: readonly MixturePull[]): DataTable {
  const rateHz = cleanLambda(drive)?.rateHz ?? null;
  return {
    id: 'mixture.pulls',
    title: 'Full-load mixture by pull',
    columns: [
      { name: 'pull', unit: '' },
      { name: 'leanest against target', unit: 'ratio' },
      { name: 'at', unit: 'rpm' },
      { name: 'richest against target', unit: 'ratio' },
      { name: 'leanest under boost', unit: 'ratio' },
      { name: 'lean for', unit: 's' },
      { name: 'judged', unit: 's' },
      { name: 'enriched after', unit: 's' },
      { name: 'updates', unit: 'Hz' },
      { name: 'note', unit: '' },
    ],
    rows: drive.pulls.map((pull) => {
      const p = measured.find((m) => m.pull === pull);
      if (!p) {
        const why = pull.fitness.mixture.ok
          ? (frozenClause(drive, 'lambda', pull) ?? 'too few readings in it')
          : pull.fitness.mixture.why;
        return [String(pull.id), null, null, null, null, null, null, null, rateHz, `not judged: ${why}`];
      }
      const { error, boosted } = p;
      const leanS = (error ?? boosted)?.excursions.reduce((sum, x) => sum + x.seconds, 0);
      return [
        String(pull.id),
        error?.highest.value ?? null,
        (error ?? boosted)?.highest.rpm ?? null,
        error?.lowest.value ?? null,
        boosted?.highest.value ?? null,
        leanS ?? null,
        (error ?? boosted)?.judgedS ?? null,
        p.enrichedAfterS ?? null,
        rateHz,
        error || boosted ? '' : 'nothing in it could be judged',
      ];
    }),
  };
}
