import type { Drive } from '../drive.ts';
import type { Rail } from '../rail/series.ts';
import { impossibleJumps } from './jumps.ts';

/** Readings that no rail can show while the engine pulls on, from the first to the last of them. */
export interface RailDropout {
  readonly startS: number;
  readonly endS: number;
  readonly readings: number;
  /** Rail pressure before it, and the first reading in it, kPa gauge. */
  readonly fromKpa: number;
  readonly toKpa: number;
}

/** Rail pressure without the moments in which it leaves and is back as no rail can, and those moments. */
export function withoutDropouts(drive: Drive, rail: Rail): { rail: Rail; dropouts: readonly RailDropout[] } {
  const channel = drive.recording.channels.get('fuel_rail_pressure');
  const jumps = impossibleJumps(drive, 'fuel_rail_pressure');
  if (!channel || jumps.length === 0) return { rail, dropouts: [] };
  const dropouts = jumps.map(({ from, to }) => ({
    startS: channel.time[from],
    endS: channel.time[to],
    readings: to - from + 1,
    fromKpa: channel.values[from - 1],
    toKpa: channel.values[from],
  }));
  const isGood = (_: number, i: number) =>
    !dropouts.some(({ startS, endS }) => rail.time[i] >= startS && rail.time[i] <= endS);
  return {
    rail: {
      ...rail,
      time: rail.time.filter(isGood),
      railKpa: rail.railKpa.filter(isGood),
      manifoldKpa: rail.manifoldKpa.filter(isGood),
      differentialKpa: rail.differentialKpa.filter(isGood),
      targetKpa: rail.targetKpa?.filter(isGood),
      rpm: rail.rpm.filter(isGood),
      regime: rail.regime.filter(isGood),
    },
    dropouts,
  };
}
