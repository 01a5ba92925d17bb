import type { Build } from '../build-sheet/build.ts';
import type { LimitDefinition, LimitTable } from '../build-sheet/limit.ts';
import type { ChannelId } from '../channels/catalogue.ts';
import type { Drive } from '../drive/drive.ts';
import type { DataTable, Finding } from './finding.ts';

/** Everything `explain`, `limits`, the README table and the report need to know of an analyser. */
export interface AnalyserMeta {
  readonly id: string;
  readonly title: string;
  readonly question: string;
  /** Each entry is needed; within an entry any one of the channels will do. */
  readonly needs: readonly (readonly ChannelId[])[];
  /** Channels that sharpen the answer but are not needed. */
  readonly helps: readonly ChannelId[];
  readonly formula: string;
  /** The physics, about three sentences. */
  readonly physics: string;
  readonly limits: readonly LimitDefinition[];
  /** What no log of this kind can show about the question. */
  readonly cannotSee: readonly string[];
  readonly cautions: readonly string[];
}

/** One analyser's answer. `needs` names the channel or build-sheet key that would let it answer what it could not. */
export interface Assessment {
  readonly summary: string;
  readonly findings: readonly Finding[];
  readonly needs: readonly string[];
  readonly tables: readonly DataTable[];
}

export interface AssessContext {
  readonly build: Build;
  readonly limits: LimitTable;
  /** Trouble codes read by hand (`--dtc`). */
  readonly codes: readonly string[];
}

export interface Analyser {
  readonly meta: AnalyserMeta;
  readonly assess: (drive: Drive, context: AssessContext) => Assessment;
}
