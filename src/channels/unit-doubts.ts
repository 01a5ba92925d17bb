import type { Recording } from './recording.ts';
import { fuelDoubts } from './unit-doubts-fuel.ts';
import { ignitionDoubts } from './unit-doubts-ignition.ts';
import { pressureDoubts } from './unit-doubts-pressure.ts';
import { shareDoubts } from './unit-doubts-share.ts';
import { temperatureDoubts } from './unit-doubts-temperature.ts';

/**
 * Units, references and signs that physics contradicts: an air-fuel ratio read as lambda, absolute pressure read as gauge, degrees
 * Fahrenheit read as Celsius, and the like. Each sentence names the channel, its column, what was seen, and the change of the mapping.
 * Empty where the log is in order, and where it does not show.
 */
export function unitDoubts(recording: Recording): string[] {
  return [
    ...pressureDoubts(recording),
    ...temperatureDoubts(recording),
    ...fuelDoubts(recording),
    ...shareDoubts(recording),
    ...ignitionDoubts(recording),
  ];
}
