import type { Build } from '../build-sheet/build.ts';
import type { Recording } from '../channels/recording.ts';
import type { Drive } from './drive.ts';
import { mendedEngineSpeed } from './engine-speed-slips.ts';
import { findPulls } from './find-pulls.ts';
import { loadSignal, noLoadNote } from './load-signal.ts';
import { labelRegimes } from './regimes.ts';

const NO_SPEED = 'Engine speed is not logged: no pull can be found and nothing can be placed by engine speed.';

/** What the car was doing when: regimes and pulls over a recording. */
export function segmentDrive(recording: Recording, build: Build): Drive {
  const speed = recording.channels.get('engine_speed');
  if (!speed) {
    const nothing = new Float64Array(0);
    return {
      recording,
      time: nothing,
      engineSpeed: nothing,
      regime: new Uint8Array(0),
      load: undefined,
      pulls: [],
      notes: [NO_SPEED],
    };
  }
  const { time } = speed;
  const values = mendedEngineSpeed(speed, build.engine.redlineRpm);
  const load = loadSignal(recording);
  const pulls = load ? findPulls(recording, build, load, time, values) : [];
  const regime = labelRegimes(recording, build, pulls, time, values);
  const notes = load === undefined ? [noLoadNote(recording)] : load.note === undefined ? [] : [load.note];
  if (load && pulls.length === 0) {
    notes.push('Full load was reached, but never with engine speed rising long enough in one gear: no pull was found.');
  }
  return { recording, time, engineSpeed: values, regime, load, pulls, notes };
}
