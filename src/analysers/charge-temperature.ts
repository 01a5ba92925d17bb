// Question: how hot does the charge get, does it recover between pulls?
// Hot charge is thin and near to knock: some 10 K cost 3 % of density and a degree or more of the advance that the engine will stand.
// Peak = the highest level held half a second in a pull, the sensor's late answer just after it included.
import { limitOf } from '../build-sheet/limit.ts';
import { type ChannelId, channelEntry } from '../channels/catalogue.ts';
import { AIR_JUMP_K, cleanTemperature } from '../drive/charge/clean.ts';
import { ambientOf, coolerPull } from '../drive/charge/cooler.ts';
import { chargePulls } from '../drive/charge/pull.ts';
import type { Drive } from '../drive/drive.ts';
import { temperatureFault } from '../drive/temperature-fault.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { Analyser, AnalyserMeta, AssessContext, Assessment } from './analyser.ts';
import { PEAK, peakFinding } from './charge-temperature-peak.ts';
import { chargeTable, coolerFinding, soakFinding } from './charge-temperature-words.ts';
import type { Finding } from './finding.ts';
import { keptOpen } from './kept-open.ts';
import { notAssessedFinding } from './wording.ts';

const NO_SOURCE = 'common practice, no source';

const degrees = (value: number) => formatQuantity(value, 'degC');

const meta: AnalyserMeta = {
  id: 'charge-temperature',
  title: 'Charge temperature',
  question: 'How hot does the charge get, and does it recover between pulls?',
  needs: [['charge_air_temperature', 'intake_air_temperature'], ['engine_speed']],
  helps: ['charge_air_temperature', 'intake_air_temperature', 'manifold_pressure', 'barometric_pressure'],
  formula:
    'peak (°C) = highest level held 0.5 s in a pull; compressor outlet (K) = T1 (K) × [1 + (PR^0.286 − 1)/0.70]; effectiveness = (in − out)/(in − ambient), all in °C',
  physics:
    'Compressing air heats it, and the cooler gives part of that to the outside air. ' +
    'In a short pull the cooler is mostly a store of heat: it fills, and empties again over the next half minute. ' +
    'Hotter charge is thinner, burns hotter and knocks sooner, so the same boost is not the same load.',
  limits: [{ id: PEAK, title: 'Peak in a pull, held 0.5 s', unit: 'degC', warn: 60, fail: 75, source: NO_SOURCE }],
  cannotSee: [
    'What the sensor has not answered yet: in a short pull a slow one reads low.',
    'Where an intake temperature sensor sits, before the compressor or behind the cooler.',
    'Differences between cylinders.',
  ],
  cautions: ['Hot charge brings knock nearer: let it cool before the next pull.'],
};

const open = (finding: Finding, needs: readonly string[]): Assessment => ({
  summary: `${finding.title}.`,
  findings: [finding],
  needs,
  tables: [],
});

function assess(drive: Drive, { limits }: AssessContext): Assessment {
  const limit = limitOf(limits, PEAK);
  const { channels } = drive.recording;
  const id = (['charge_air_temperature', 'intake_air_temperature'] as const satisfies readonly ChannelId[]).find((x) =>
    channels.has(x),
  );
  const title = 'Charge temperature is not known';
  const charge = id && cleanTemperature(drive, id, AIR_JUMP_K);
  if (!id || !charge) {
    return open(
      notAssessedFinding(PEAK, title, 'Neither charge nor intake air temperature is logged.', [
        'Log charge_air_temperature from a sensor behind the charge cooler.',
      ]),
      ['charge_air_temperature', 'intake_air_temperature'],
    );
  }
  if (!drive.pulls.some((pull) => pull.usable)) {
    return open(
      notAssessedFinding(
        PEAK,
        'No pull shows the charge temperature',
        drive.pulls.length === 0 ? 'The log holds no full-load pull.' : 'No pull is long enough to be judged.',
        ['Drive a full-load pull in one gear to near the redline.'],
      ),
      ['a full-load pull'],
    );
  }
  const raw = channels.get(id);
  const fault = raw && temperatureFault(drive, raw);
  if (fault !== undefined) {
    return open(
      notAssessedFinding(PEAK, `${channelEntry(id).title} is not measured`, `${channelEntry(id).title} ${fault}.`, [
        'Check the sensor, its plug and the mapping, and repeat the pulls.',
      ]),
      [id],
    );
  }
  if (charge.values.length < 3 || (raw && raw.values.length >= 10 && raw.max === raw.min)) {
    return open(
      notAssessedFinding(
        PEAK,
        'Logged charge temperature stands still',
        charge.values.length < 3
          ? 'Hardly a reading is within what the sensor can show.'
          : `Every reading of the log is ${degrees(raw?.max ?? 0)}, pulls included: that is no measurement.`,
        ['Check the sensor, its plug and the mapping.'],
      ),
      [id],
    );
  }
  const pulls = chargePulls(drive, charge);
  if (pulls.length === 0) {
    return open(
      notAssessedFinding(PEAK, title, 'No pull holds two readings of it on end.', [
        'Log charge_air_temperature at 1 Hz or more.',
      ]),
      [id],
    );
  }
  const isIntake = id === 'intake_air_temperature';
  const intake = isIntake ? undefined : cleanTemperature(drive, 'intake_air_temperature', AIR_JUMP_K);
  const inlet = intake && intake.values.length > 0 ? intake : undefined;
  const ambient = ambientOf(drive, inlet ?? (isIntake ? charge : undefined), charge);
  const coolers = pulls
    .map((pull) => coolerPull(drive, pull, ambient.celsius, inlet))
    .filter((cooler) => cooler !== undefined);
  const seen = { charge, pulls, coolers, ambient, isIntake, knowsInlet: inlet !== undefined };
  const peak = peakFinding(seen, limit);
  const findings = [peak, soakFinding(pulls), inlet && coolerFinding(coolers, pulls, ambient)].filter(
    (finding) => finding !== undefined,
  );
  return {
    summary: `${peak.title}, over ${pulls.length} pull${pulls.length === 1 ? '' : 's'}${isIntake ? ' (by intake air temperature)' : ''}.`,
    findings: keptOpen(peak, findings),
    needs: isIntake ? ['charge_air_temperature'] : inlet ? [] : ['intake_air_temperature'],
    tables: [chargeTable(drive, pulls, inlet ? coolers : [])],
  };
}

export const chargeTemperature: Analyser = { meta, assess };
