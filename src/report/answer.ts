import type { Analyser, AssessContext, Assessment } from '../analysers/analyser.ts';
import type { DataTable, Finding } from '../analysers/finding.ts';
import { worst } from '../analysers/wording.ts';
import type { Drive } from '../drive/drive.ts';
import type { AnalyserAnswer } from './report-schema.ts';
import { roundMeasure, roundRpm, roundTime } from './round.ts';

const CRASHED = '.crashed';

/** Puts one analyser's question to a drive. A fault inside the analyser costs its answer, not the report. */
export function answer({ meta, assess }: Analyser, drive: Drive, context: AssessContext): AnalyserAnswer {
  try {
    return toAnswer(meta, assess(drive, context));
  } catch (fault) {
    return crashed(meta, fault);
  }
}

/** Work beyond the answers. A fault of our own in it costs that part, and `faults` says so; the report stands. */
export function unlessBroken<T>(part: string, faults: string[], compute: () => T): T | undefined {
  try {
    return compute();
  } catch (fault) {
    const told = fault instanceof Error ? `${fault.name}: ${fault.message}` : String(fault);
    faults.push(`A fault in pullgate, not in the car or the log, stopped the part "${part}" (${told}).`);
    return undefined;
  }
}

/** Whether an analyser or a part failed by a fault of our own; such a run must not end as if it had worked. */
export function hasCrash(report: {
  readonly analysers: readonly AnalyserAnswer[];
  readonly faults?: readonly string[] | undefined;
}): boolean {
  if (report.faults && report.faults.length > 0) return true;
  return report.analysers.some(({ findings }) => findings.some(({ id }) => id.endsWith(CRASHED)));
}

function toAnswer(meta: Analyser['meta'], { summary, findings, needs, tables }: Assessment): AnalyserAnswer {
  return {
    id: meta.id,
    title: meta.title,
    verdict: worst(findings),
    summary,
    findings: findings.map(rounded),
    needs: [...needs],
    ...(tables.length > 0 ? { tables: tables.map(roundedTable) } : {}),
  };
}

function rounded(finding: Finding): Finding {
  const { measured } = finding;
  return {
    ...finding,
    ...(measured && {
      measured: {
        value: roundMeasure(measured.value),
        unit: measured.unit,
        ...(measured.low !== undefined && { low: roundMeasure(measured.low) }),
        ...(measured.high !== undefined && { high: roundMeasure(measured.high) }),
      },
    }),
    where: finding.where.map((place) => ({
      ...place,
      start: roundTime(place.start),
      end: roundTime(place.end),
      ...(place.rpm && { rpm: roundRpm(place.rpm) }),
    })),
  };
}

function roundedTable(table: DataTable): DataTable {
  const cell = (value: string | number | null) =>
    typeof value !== 'number' ? value : Number.isFinite(value) ? roundMeasure(value) : null;
  return { ...table, rows: table.rows.map((row) => row.map(cell)) };
}

function crashed(meta: Analyser['meta'], fault: unknown): AnalyserAnswer {
  const told = fault instanceof Error ? `${fault.name}: ${fault.message}` : String(fault);
  return {
    id: meta.id,
    title: meta.title,
    verdict: 'not-assessed',
    summary: 'This question could not be answered because of a fault in pullgate itself.',
    findings: [
      {
        id: `${meta.id}${CRASHED}`,
        verdict: 'not-assessed',
        title: 'The analyser broke down',
        reasoning: [
          `A fault in pullgate, not in the car or the log, stopped this analyser (${told}).`,
          'Nothing is known about this question from this run.',
        ],
        where: [],
        causes: [],
        next: [`Report the fault with the log, or leave the question out with --skip ${meta.id}.`],
      },
    ],
    needs: [],
  };
}
