import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import type { Channel, Recording } from './recording.ts';
import { doubt, enough } from './unit-doubt.ts';

/** Smaller than this is the rounding of a logger, deg. */
const NOTHING_DEG = 0.25;

const degrees = (value: number) => formatQuantity(value, 'deg');

/** Retard counts positive: a channel that only goes below zero is turned round. */
function ofRetard(channel: Channel): string | undefined {
  const { min, max, values } = channel;
  if (min >= -NOTHING_DEG) return undefined;
  const below = values.reduce((count, value) => count + (value < -NOTHING_DEG ? 1 : 0), 0);
  const above = values.reduce((count, value) => count + (value > NOTHING_DEG ? 1 : 0), 0);
  if (above === 0) {
    const seen = `only goes below zero, down to ${degrees(min)}, and retard counts positive here`;
    return doubt(
      channel,
      seen,
      'The sign is the wrong way round: map it with "scale": -1, or leave out the -1 it has.',
    );
  }
  if (below < 3) return undefined;
  const seen = `goes both below zero (${degrees(min)}) and above (${degrees(max)}), which retard by knock control does not`;
  return doubt(channel, seen, 'Make sure that it is retard and which way it counts.');
}

/** No engine runs its light load with the spark after top dead centre, deg. */
const LATE_DEG = -3;
const VERY_LATE_DEG = -8;

function ofAdvance(channel: Channel): string | undefined {
  if (channel.min > VERY_LATE_DEG) return undefined;
  const usual = median(channel.values);
  if (usual >= LATE_DEG || quantile(channel.values, 0.1) > VERY_LATE_DEG) return undefined;
  const seen = `is ${degrees(usual)} in the middle, which is spark after top dead centre`;
  return doubt(channel, seen, 'The column counts the other way: map it with "unit": "deg ATDC".');
}

/** Doubts about retard and advance: the sign. */
export function ignitionDoubts({ channels }: Recording): string[] {
  const found: (string | undefined)[] = [];
  for (const channel of channels.values()) if (channel.id.startsWith('knock_retard')) found.push(ofRetard(channel));
  const advance = enough(channels, 'spark_advance');
  if (advance) found.push(ofAdvance(advance));
  return found.filter((one) => one !== undefined);
}
