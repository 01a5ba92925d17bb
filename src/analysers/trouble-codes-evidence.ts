import type { Channel } from '../channels/recording.ts';
import type { Drive } from '../drive/drive.ts';
import { inRegime } from '../drive/regime-at.ts';
import { isMassAirFlowCircuitCode, NO_CODES_STORED } from '../engine/trouble-code.ts';
import { compareText } from '../kernel/compare-text.ts';
import type { AssessContext } from './analyser.ts';

/** Codes read by hand, against what the build sheet expects. */
export interface CodesRead {
  /** Whether anybody read the fault memory at all. */
  readonly wasRead: boolean;
  readonly unexplained: readonly string[];
  readonly explained: readonly string[];
}

/** Codes of the command line and the build sheet; those the sheet expects, or that a meter unplugged on purpose sets, are explained. */
export function codesRead({ build, codes }: AssessContext): CodesRead {
  const all = [...codes, ...build.codes];
  const ignored = new Set(build.expect.ignoreCodes.map((code) => code.toUpperCase()));
  const meterUnplugged = build.expect.disconnected.includes('mass_air_flow');
  const isExplained = (code: string) => ignored.has(code) || (meterUnplugged && isMassAirFlowCircuitCode(code));
  const stored = [...new Set(all.filter((code) => code.toLowerCase() !== NO_CODES_STORED).map((c) => c.toUpperCase()))];
  stored.sort(compareText);
  return {
    wasRead: all.length > 0,
    unexplained: stored.filter((code) => !isExplained(code)),
    explained: stored.filter(isExplained),
  };
}

/** A lamp or count channel while the engine ran. */
export interface Logged {
  readonly highest: number;
  readonly firstS: number;
  readonly lastS: number;
  /** Updates above zero and updates in all, with the engine running. */
  readonly on: number;
  readonly of: number;
  /** On from the first update, out within seconds and never again: a lamp's own test after key-on. */
  readonly isSelfTest: boolean;
}

/** A lamp's own test is over after so long, s, and it has to have been seen off this many times since. Common practice, no source. */
const SELF_TEST_S = 5;
const SEEN_OFF = 5;

/** Values above zero while the engine ran; a lamp test with the engine off is no fault. */
export function whileRunning(drive: Drive, channel: Channel | undefined): Logged | undefined {
  if (!channel) return undefined;
  const everRan = drive.engineSpeed.some((rpm) => rpm > 300);
  let [highest, firstS, lastS, on, of] = [0, Number.NaN, Number.NaN, 0, 0];
  let [startS, outS] = [Number.NaN, Number.NaN];
  for (const [i, value] of channel.values.entries()) {
    const atS = channel.time[i];
    if (everRan && inRegime(drive, atS, 'engine-off')) continue;
    if (of === 0) startS = atS;
    of++;
    if (!(value >= 0.5)) {
      if (Number.isNaN(outS)) outS = atS;
      continue;
    }
    on++;
    highest = Math.max(highest, Math.round(value));
    if (Number.isNaN(firstS)) firstS = atS;
    lastS = atS;
  }
  if (of === 0) return undefined;
  const isSelfTest = firstS === startS && lastS < outS && outS - startS <= SELF_TEST_S && of - on >= SEEN_OFF;
  return { highest, firstS, lastS, on, of, isSelfTest };
}

export const names = (codes: readonly string[]): string => (codes.length > 0 ? codes.join(', ') : 'none');
