import { formatNumber, formatQuantity, groupThousands } from '../kernel/format-number.ts';
import { holdAt } from '../signal/interpolate.ts';
import { median } from '../signal/median.ts';
import { quantile } from '../signal/quantile.ts';
import { quantileExceeds } from '../signal/quantile-exceeds.ts';
import type { ChannelId } from './catalogue.ts';
import { isFuelTrim } from './channel-kind.ts';
import type { Channel, Recording } from './recording.ts';
import { doubt, enough, mapWith } from './unit-doubt.ts';

/** Air-fuel ratios by mass that engines run at, all fuels. */
const AFR_RANGE = [6, 25] as const;
/** Lambda divided once more by a stoichiometric ratio. */
const DIVIDED_TWICE = 0.16;

function ofMixture(channel: Channel): string | undefined {
  if (channel.min >= DIVIDED_TWICE && channel.max < AFR_RANGE[0]) return undefined;
  const usual = median(channel.values);
  if (usual >= AFR_RANGE[0] && usual <= AFR_RANGE[1]) {
    const seen = `reads ${formatNumber(usual, '')} in the middle, which is an air-fuel ratio and no lambda`;
    return doubt(channel, seen, mapWith('unit', '"AFR"'));
  }
  if (usual > 0.02 && usual < DIVIDED_TWICE) {
    const seen = `reads ${formatNumber(usual, 'ratio')} in the middle, at which nothing burns`;
    return doubt(
      channel,
      seen,
      `The column is lambda already but read as an air-fuel ratio: ${mapWith('unit', '"lambda"')}`,
    );
  }
  return undefined;
}

const distinct = (values: Float64Array) => new Set(values).size;

/** No trim is usually beyond this, % (common practice, no source). */
const MOST_TRIM_PERCENT = 110;

/** Trims of one log are in one unit, so that they are judged together. */
function ofTrims(channels: readonly Channel[]): string[] {
  const filled = channels.filter(({ values }) => values.length > 0);
  if (filled.length === 0) return [];
  const areMoving = () => filled.some(({ values }) => distinct(values) >= 5);
  const top = Math.max(...filled.map(({ min, max }) => Math.max(Math.abs(min), Math.abs(max))));
  const aroundOne = filled.every(
    ({ values, max }) => max > 0.5 && quantile(values, 0.02) > 0.5 && quantile(values, 0.98) < 1.6,
  );
  const names = (seen: string, change: string) => filled.map((channel) => doubt(channel, seen, change));
  if (aroundOne && areMoving()) {
    const change = `The column is a factor around 1: ${mapWith('unit', '"ratio"')}`;
    return names('never leaves the neighbourhood of 1 %, which no trim does', change);
  }
  if (top > 0 && top < 0.35 && areMoving()) {
    const seen = `moves, but never beyond ${formatNumber(top, 'ratio')} %`;
    return names(seen, `The column is a share of one: ${mapWith('unit', '"ratio"')}`);
  }
  if (top <= MOST_TRIM_PERCENT) return [];
  const usual = Math.max(...filled.map(({ values }) => quantile(values.map(Math.abs), 0.9)));
  if (usual > MOST_TRIM_PERCENT) {
    return names(
      `reads up to ${formatNumber(usual, '%')} %, beyond any trim`,
      `The column is per cent already: ${mapWith('unit', '"%"')}`,
    );
  }
  return [];
}

/** A pulse cannot be longer than the cycle it belongs to: two revolutions of a four-stroke engine, 120,000 ms divided by rpm. */
const cycleMs = (rpm: number) => 120_000 / rpm;
/** A pulse that usually lasts longer than so many cycles is in another unit (common practice, no source). */
const LONGEST_CYCLES = 3;
/** Shortest pulse that opens an injector at all, ms (common practice, no source). */
const SHORTEST_MS = 0.15;

function ofPulseWidth(channel: Channel, engine: Channel | undefined): string | undefined {
  const top = quantileExceeds(channel.values, 0.995, SHORTEST_MS) ? undefined : quantile(channel.values, 0.995);
  if (top !== undefined && top > 0 && top < SHORTEST_MS) {
    const seen = `never reads above ${formatNumber(top, '')} ms, which opens no injector`;
    const change = `The column is in seconds (${mapWith('unit', '"s"')}), or in milliseconds but read as microseconds (${mapWith('unit', '"ms"')})`;
    return doubt(channel, seen, change);
  }
  if (!engine || channel.max * engine.max < LONGEST_CYCLES * cycleMs(1)) return undefined;
  const rpm = holdAt(engine.time, engine.values, channel.time, 2);
  const running = [...channel.values].flatMap((value, i) =>
    rpm[i] > 400 && value > 0 ? [value / cycleMs(rpm[i])] : [],
  );
  if (running.length < 20 || quantile(running, 0.5) < LONGEST_CYCLES) return undefined;
  const usual = median(channel.values.filter((value) => value > 0));
  const seen = `reads ${formatQuantity(usual, 'ms')} in the middle, longer than a whole engine cycle at ${groupThousands(median(engine.values))} rpm`;
  return doubt(channel, seen, `The column is in microseconds: ${mapWith('unit', '"us"')}`);
}

/** Doubts about mixture, trims and pulse width. */
export function fuelDoubts({ channels }: Recording): string[] {
  const trims = [...channels.values()].filter(({ id }) => isFuelTrim(id));
  const mixtures = (['lambda', 'lambda_target'] as const satisfies readonly ChannelId[]).flatMap((id) => {
    const channel = enough(channels, id);
    return (channel && ofMixture(channel)) ?? [];
  });
  const width = enough(channels, 'injector_pulse_width');
  const ofWidth = width && ofPulseWidth(width, channels.get('engine_speed'));
  return [...mixtures, ...ofTrims(trims), ...(ofWidth ? [ofWidth] : [])];
}
