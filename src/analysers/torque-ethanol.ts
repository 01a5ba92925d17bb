import type { Build } from '../build-sheet/build.ts';
import type { Drive } from '../drive/drive.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import { median } from '../signal/median.ts';
import type { Finding } from './finding.ts';
import { notAssessedFinding } from './wording.ts';

const ID = 'torque.ethanol';
/** A sensor may read this much high before it counts, % by volume. Common practice, no source. */
const SENSOR_PERCENT = 1;

const percent = (value: number) => formatQuantity(value, '%');

/** Ethanol in the tank against what the bottom end may run on; nothing where the sheet names no such limit. */
export function ethanolFinding(drive: Drive, build: Build): Finding | undefined {
  const { maxEthanolPercent } = build.bottomEnd;
  if (maxEthanolPercent === undefined) return undefined;
  const sensor = drive.recording.channels.get('ethanol_content');
  const readings = sensor?.values.filter((value) => value >= 0 && value <= 100);
  const measured = readings && readings.length > 0 ? median(readings) : undefined;
  const value = measured ?? build.ethanolPercent;
  if (value === undefined) {
    return notAssessedFinding(
      ID,
      'Ethanol content is not known',
      `The build sheet allows ${percent(maxEthanolPercent)} ethanol, but neither the log nor the sheet (fuel.ethanol) says what is in the tank.`,
      ['Test the fuel and write fuel.ethanol into the build sheet, or log ethanol_content.'],
    );
  }
  const from = measured === undefined ? 'build sheet, fuel.ethanol' : 'median of the ethanol sensor';
  const over = value > maxEthanolPercent + (measured === undefined ? 0 : SENSOR_PERCENT);
  const seen = `The fuel holds ${percent(value)} ethanol by volume (${from}); the build sheet allows ${percent(maxEthanolPercent)}.`;
  const shown = {
    id: ID,
    measured: { value, unit: '%' },
    limit: { warn: maxEthanolPercent, unit: '%', source: 'build sheet, bottomEnd.maxEthanol; a value above it warns' },
    where: [],
    causes: [],
  };
  if (!over) {
    return {
      ...shown,
      verdict: 'pass',
      title: 'Ethanol content is within what the bottom end may run on',
      reasoning: [seen],
      detectable: `Ethanol above ${percent(maxEthanolPercent + (measured === undefined ? 0 : SENSOR_PERCENT))} would have been told${measured === undefined ? ', if the sheet is right about the tank' : ''}.`,
      next: [],
    };
  }
  return {
    ...shown,
    verdict: 'warn',
    title: `${percent(value)} ethanol is more than the bottom end may run on`,
    reasoning: [
      seen,
      'Ethanol cools the charge and resists knock, so the engine takes boost and ignition advance at low engine speed that petrol would have answered with knock. The torque that this allows at low engine speed is what bends rods: knock no longer sets the limit, the bottom end does.',
      'Its heat for each kg of air is nearly that of petrol, so the gain comes from timing and not from the fuel; airflow alone does not show it.',
    ],
    next: [
      'Keep boost and timing at low engine speed to the petrol table, or lower the blend in the tank.',
      'Check torque at low engine speed on a dynamometer before any more of either.',
    ],
  };
}
