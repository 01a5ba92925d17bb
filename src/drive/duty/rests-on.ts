import type { Build } from '../../build-sheet/build.ts';
import { airflow } from '../airflow.ts';
import type { Drive } from '../drive.ts';
import type { LivelyId } from '../health/frozen.ts';
import type { DutySource } from './series.ts';

/** Channels without which a duty says nothing of a pull. */
export function dutyRestsOn(drive: Drive, build: Build, source: DutySource): readonly LivelyId[] {
  if (source === 'pulse-width') return ['injector_pulse_width'];
  if (source === 'logged') return [];
  const air = airflow(drive, build);
  return [!('missing' in air) && air.from === 'mass-air-flow' ? 'mass_air_flow' : 'manifold_pressure'];
}
