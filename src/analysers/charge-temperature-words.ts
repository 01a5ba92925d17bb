import type { Ambient, CoolerPull } from '../drive/charge/cooler.ts';
import { EFFICIENCY } from '../drive/charge/cooler.ts';
import type { ChargePull } from '../drive/charge/pull.ts';
import type { Drive } from '../drive/drive.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Cause, DataTable, Finding } from './finding.ts';
import { pullPlace, withInterval } from './wording.ts';

const degrees = (value: number) => formatQuantity(value, 'degC');
export const kelvin = (value: number) => formatQuantity(value, 'K');
const percent = (share: number) => formatQuantity(100 * share, '%');
const seconds = (value: number) => formatQuantity(value, 's');

/** Below this the cooler gives little back. Common practice, no source. */
const WEAK = 0.55;
const SOAK_K = 5;
const RISING_K_S = 1;

export function slopeWords({ slope, pull }: ChargePull): string | undefined {
  if (!slope) return undefined;
  const rate = (value: number) => formatQuantity(value, 'K/s');
  const words = `${rate(slope.perS)} (${rate(slope.low)} to ${rate(slope.high)})`;
  if (slope.low > 0 && slope.perS >= RISING_K_S)
    return `At the end of pull ${pull.id} it still climbed by ${words}: a longer pull goes higher, the cooler works as a store and not as an exchanger.`;
  return slope.low > 0
    ? `At the end of pull ${pull.id} it still climbed by ${words}.`
    : `At the end of pull ${pull.id} it climbed no more than its own scatter: ${words}.`;
}

export function recoveryWords({ recovery, pull }: ChargePull): string | undefined {
  if (recovery.watchedS <= 0 || recovery.riseK < 5) return undefined;
  if (recovery.halfS !== undefined) {
    return `After pull ${pull.id} half of the ${kelvin(recovery.riseK)} was gone in ${seconds(recovery.halfS)}: a time constant of about ${seconds(recovery.tauS ?? 0)}.`;
  }
  return `After pull ${pull.id} it had not lost half of its rise in the ${seconds(recovery.watchedS)} that follow: not recovered, ${kelvin(recovery.leftK ?? recovery.riseK)} left.`;
}

export function heatCauses(
  pulls: readonly ChargePull[],
  worst: ChargePull,
  coolers: readonly CoolerPull[],
  ambient: Ambient | undefined,
): Cause[] {
  const cooler = coolers.find(({ pull }) => pull === worst.pull);
  const weak: Cause = { cause: 'The charge cooler is too small, blocked, fouled or without air', for: [], against: [] };
  const pressed: Cause = {
    cause: 'The compressor heats the charge more than usual: high pressure ratio, or past its best efficiency',
    for: [],
    against: [],
  };
  if (cooler) {
    const words = `effectiveness about ${percent(cooler.effectiveness)} at the end of pull ${worst.pull.id}`;
    (cooler.high < WEAK ? weak.for : weak.against).push(words);
    (cooler.pressureRatio >= 2.2 ? pressed.for : pressed.against).push(
      `pressure ratio ${formatQuantity(cooler.pressureRatio, 'ratio')}, some ${degrees(cooler.outletC)} behind the compressor`,
    );
  }
  const warm: Cause = { cause: 'The air outside is hot', for: [], against: [] };
  if (ambient)
    (ambient.celsius >= 30 ? warm.for : warm.against).push(`about ${degrees(ambient.celsius)} (${ambient.from})`);
  const first = pulls[0];
  const soaked: Cause = { cause: 'Heat soak: pulls too close together, or a hot start', for: [], against: [] };
  if (worst !== first) {
    const gained = worst.startC - first.startC;
    (gained >= SOAK_K ? soaked.for : soaked.against).push(
      `pull ${worst.pull.id} began ${kelvin(gained)} above pull ${first.pull.id}`,
    );
  } else if (ambient && worst.startC - ambient.celsius >= 20)
    soaked.for.push(
      `the pull began at ${degrees(worst.startC)}, ${kelvin(worst.startC - ambient.celsius)} above the air outside`,
    );
  return [weak, pressed, soaked, warm]
    .filter((cause) => cause.for.length + cause.against.length > 0)
    .sort((a, b) => b.for.length - b.against.length - (a.for.length - a.against.length));
}

/** Heat carried from one pull into the next; told, no limit of its own. */
export function soakFinding(all: readonly ChargePull[]): Finding | undefined {
  const pulls = all.filter(({ isContinued }) => !isContinued);
  if (pulls.length < 2) return undefined;
  const [first] = pulls;
  const last = pulls[pulls.length - 1];
  const [start, peak] = [last.startC - first.startC, last.peakC - first.peakC];
  const isSoaked = start >= SOAK_K || peak >= SOAK_K;
  return {
    id: 'charge-temperature.soak',
    verdict: 'pass',
    title: isSoaked
      ? `Heat builds up from pull to pull: ${kelvin(Math.max(start, peak))}`
      : 'Charge temperature recovers between pulls',
    measured: { value: start, unit: 'K' },
    reasoning: [
      `Pull ${first.pull.id} began at ${degrees(first.startC)} and peaked at ${degrees(first.peakC)}; pull ${last.pull.id} began at ${degrees(last.startC)} and peaked at ${degrees(last.peakC)}: ${kelvin(start)} at the start, ${kelvin(peak)} at the peak.`,
      ...(isSoaked
        ? ['Later pulls are therefore not alike the first: hotter charge is thinner and nearer to knock.']
        : []),
    ],
    where: isSoaked ? [pullPlace(last.pull)] : [],
    detectable: `A build-up of ${kelvin(SOAK_K)} over the pulls is told.`,
    causes: [],
    next: isSoaked ? ['Leave the car rolling between pulls until charge temperature is back at its first start.'] : [],
  };
}

/** What the cooler takes out; told with its interval, no limit of its own. */
export function coolerFinding(
  coolers: readonly CoolerPull[],
  charges: readonly ChargePull[],
  ambient: Ambient,
): Finding | undefined {
  if (coolers.length === 0) return undefined;
  const worst = coolers.reduce((a, b) => (b.effectiveness < a.effectiveness ? b : a));
  const charge = charges.find(({ pull }) => pull === worst.pull);
  const isWeak = worst.high < WEAK;
  const isOdd = worst.low > 1;
  return {
    id: 'charge-temperature.cooler',
    verdict: 'pass',
    title: isOdd
      ? 'Charge reads cooler than the air outside: not a temperature behind the cooler, or not in step with it'
      : `The charge cooler takes out about ${percent(worst.effectiveness)} of the heat${isWeak ? ': weak' : ''}`,
    measured: { value: 100 * worst.effectiveness, unit: '%', low: 100 * worst.low, high: 100 * worst.high },
    reasoning: [
      `Pull ${worst.pull.id} ended at ${formatQuantity(worst.boostKpa, 'kPa')} boost, a pressure ratio of ${formatQuantity(worst.pressureRatio, 'ratio')}. With ${degrees(worst.inletC)} before the compressor (intake temperature) and an isentropic efficiency of ${EFFICIENCY.usual.toFixed(2)}, assumed, that gives ${degrees(worst.outletC)} behind it.`,
      `Behind the cooler ${degrees(charge?.peakC ?? Number.NaN)} were measured, outside ${degrees(ambient.celsius)} (${ambient.from}): effectiveness = (in − out)/(in − ambient) = ${withInterval(100 * worst.effectiveness, 100 * worst.low, 100 * worst.high, '%')}, for an efficiency of ${EFFICIENCY.high} to ${EFFICIENCY.low}.`,
      'A sensor that answers slowly makes a short pull look better cooled than it is.',
    ],
    where: [pullPlace(worst.pull)],
    detectable: `An effectiveness below ${percent(WEAK)} is called weak.`,
    causes: [],
    next: isWeak
      ? ['Check the air path to the cooler and its ducts, then pressure loss across it, then its size.']
      : [],
  };
}

/** One row a pull. */
export function chargeTable(drive: Drive, charges: readonly ChargePull[], coolers: readonly CoolerPull[]): DataTable {
  return {
    id: 'charge-temperature.pulls',
    title: 'Charge temperature by pull',
    columns: [
      { name: 'pull', unit: '' },
      { name: 'start', unit: 'degC' },
      { name: 'peak', unit: 'degC' },
      { name: 'rise', unit: 'K' },
      { name: 'slope at the end', unit: 'K/s' },
      { name: 'half back after', unit: 's' },
      { name: 'left before the next', unit: 'K' },
      { name: 'cooler effectiveness', unit: '%' },
      { name: 'note', unit: '' },
    ],
    rows: drive.pulls.map((pull) => {
      const c = charges.find((charge) => charge.pull === pull);
      if (!c)
        return [
          String(pull.id),
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          pull.usable ? 'not judged: too few readings' : 'not judged: too short',
        ];
      const cooler = coolers.find((x) => x.pull === pull);
      const note =
        c.recovery.riseK >= 5 && c.recovery.watchedS > 0 && c.recovery.halfS === undefined ? 'not recovered' : '';
      return [
        String(pull.id),
        c.startC,
        c.peakC,
        c.riseK,
        c.slope?.perS ?? null,
        c.recovery.halfS ?? null,
        c.recovery.leftK ?? null,
        cooler ? 100 * cooler.effectiveness : null,
        note,
      ];
    }),
  };
}
