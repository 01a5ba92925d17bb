import { oncePer } from '../kernel/once-per.ts';
import { alignedChannel } from './align.ts';
import { channelSeries } from './channel-series.ts';
import type { Drive, Pull, Series } from './drive.ts';
import { cutSeries } from './pull-series.ts';

/** Gauge boost = manifold − barometric pressure, kPa, over the whole log on the manifold sensor's own time base. */
export const gaugeBoost = oncePer((drive: Drive): Series | undefined => {
  const manifold = channelSeries(drive, 'manifold_pressure');
  if (!manifold) return undefined;
  const { kpa } = drive.recording.barometric;
  const barometric = alignedChannel(drive.recording, 'barometric_pressure', manifold.time);
  const values = manifold.values.map((pressureKpa, i) => {
    const atThatTime = barometric ? barometric[i] : kpa;
    return pressureKpa - (Number.isFinite(atThatTime) ? atThatTime : kpa);
  });
  return { ...manifold, values };
});

/** Gauge boost within one pull, kPa. */
export function pullBoost(drive: Drive, pull: Pull): Series | undefined {
  const boost = gaugeBoost(drive);
  return boost && cutSeries(boost, pull.startS, pull.endS);
}
