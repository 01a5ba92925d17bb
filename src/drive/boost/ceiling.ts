import { channelEntry } from '../../channels/catalogue.ts';
import type { Drive } from '../drive.ts';
import { gaugeBoost } from './gauge-boost.ts';
import { type BoostPull, settledBoost } from './settled-boost.ts';
import { findGlitches, noiseAroundSlope } from './trace.ts';

/** Which boost question a stretch above the ceiling belongs to. */
export type BoostShape = 'overshoot' | 'spike' | 'creep';

/** A stretch of believable samples above the ceiling. */
export interface CeilingBreach {
  readonly shape: BoostShape;
  readonly pull: BoostPull['pull'] | undefined;
  readonly startS: number;
  readonly endS: number;
  readonly peakKpa: number;
  readonly peakRpm: number;
  readonly samples: number;
}

/** A lone sample at this rate or above has to have neighbours that follow it, Hz. */
const LONE_SAMPLE_HZ = 40;
const BRIEF_S = 0.5;

function shapeOf(boost: BoostPull | undefined, startS: number, endS: number, peakS: number): BoostShape {
  const brief = endS - startS < BRIEF_S;
  if (!boost) return brief ? 'spike' : 'creep';
  if (boost.unsettled || !boost.settled) return 'creep';
  const within = [...(boost.excursions?.spikes ?? []), ...(boost.excursions?.setAside ?? [])];
  if (within.some((spike) => peakS >= spike.startS - 0.1 && peakS <= spike.endS + 0.1)) return 'spike';
  if (boost.rise && startS <= boost.rise.peakTimeS + 0.1 && peakS < boost.settled.settleS + 0.1) {
    return boost.rise.excessPercent > 2 ? 'overshoot' : 'creep';
  }
  return peakS > boost.trace.time[boost.trace.time.length - 1] && brief ? 'spike' : 'creep';
}

/** Every stretch of the log above the ceiling (kPa gauge), lone impossible samples left out, with the shape that explains it. */
export function ceilingBreaches(drive: Drive, ceilingKpa: number): CeilingBreach[] {
  const boost = gaugeBoost(drive);
  const manifold = drive.recording.channels.get('manifold_pressure');
  if (!boost || !manifold) return [];
  const { time, values, rpm, rateHz } = boost;
  const highestKpa = channelEntry('manifold_pressure').plausible[1];
  const pulls = settledBoost(drive);
  const breaches: CeilingBreach[] = [];
  for (let i = 0, n = values.length; i < n; i++) {
    if (!(values[i] > ceilingKpa) || manifold.values[i] > highestKpa) continue;
    let to = i + 1;
    while (to < values.length && values[to] > ceilingKpa && time[to] - time[to - 1] < 1.5) to++;
    let top = i;
    for (let k = i; k < to; k++) if (values[k] > values[top] && manifold.values[k] <= highestKpa) top = k;
    const [from, until] = [Math.max(0, i - 25), Math.min(values.length, to + 25)];
    const noiseKpa = noiseAroundSlope(values.subarray(from, until), manifold.step);
    const glitch = findGlitches(time.subarray(from, until), values.subarray(from, until), noiseKpa);
    const beside = Math.max(values[i - 1] ?? values[i], values[to] ?? values[i]);
    const lone = to - i === 1 && rateHz >= LONE_SAMPLE_HZ && values[i] - beside > Math.max(4 * noiseKpa, 2);
    if (!(to - i === 1 && (lone || glitch.includes(i - from)))) {
      const found = pulls.find((p) => time[top] >= p.trace.time[0] && time[top] <= p.pull.endS + 0.3);
      breaches.push({
        shape: shapeOf(found, time[i], time[to - 1], time[top]),
        pull: found?.pull,
        startS: time[i],
        endS: time[to - 1],
        peakKpa: values[top],
        peakRpm: rpm[top],
        samples: to - i,
      });
    }
    i = to;
  }
  return breaches;
}
