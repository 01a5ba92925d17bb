import { oncePer } from '../../kernel/once-per.ts';
import { channelSeries } from '../channel-series.ts';
import type { Drive, Pull, Series } from '../drive.ts';
import { outsideAirAt } from '../outside-air.ts';
import { cutSeries } from '../pull-series.ts';

/** Gauge boost = manifold − barometric pressure, kPa, over the whole log on the manifold sensor's own time base. */
export const gaugeBoost = oncePer((drive: Drive): Series | undefined => {
  const manifold = channelSeries(drive, 'manifold_pressure');
  if (!manifold) return undefined;
  const outsideKpa = outsideAirAt(drive, manifold.time);
  const values = new Float64Array(outsideKpa.length);
  for (let i = 0, n = values.length; i < n; i++) values[i] = manifold.values[i] - outsideKpa[i];
  return { ...manifold, values };
});

/** Gauge boost within one pull, kPa. */
export function pullBoost(drive: Drive, pull: Pull): Series | undefined {
  const boost = gaugeBoost(drive);
  return boost && cutSeries(boost, pull.startS, pull.endS);
}
