import type { Cell, CellRegion } from '../drive/trim/cells.ts';
import type { LoadAxis } from '../drive/trim/load-axis.ts';
import type { BankTrims, TrimSurvey } from '../drive/trim/total-trim.ts';
import { formatAgainst, formatNumber, groupThousands, type Marks } from '../kernel/format-number.ts';
import type { Place } from './finding.ts';

/** A correction with its sign, told apart from the limits it is held against: `"+10.2 %"`. */
export function signedPercent(value: number, limit?: Marks): string {
  const text = formatAgainst(value, '%', limit);
  return text.startsWith('-') || Number(formatNumber(value, '%')) === 0 ? text : `+${text}`;
}

export function secondsWords(seconds: number): string {
  return `${seconds < 9.95 ? seconds.toFixed(1) : seconds.toFixed(0)} s`;
}

function loadBand(load: readonly [number, number], axis: LoadAxis | undefined): string {
  return `${load[0]} to ${load[1]} ${axis?.unit ?? '%'} ${axis?.name ?? 'load'}`;
}

/** `"idle"`, `"1,500 to 2,500 rpm at 20 to 40 % absolute load"`, `"all speeds and loads off idle"`. */
export function regionWords(region: CellRegion, axis: LoadAxis | undefined): string {
  if (region.idle) return 'idle';
  const rpm = region.rpm && `${groupThousands(Math.max(0, region.rpm[0]))} to ${groupThousands(region.rpm[1])} rpm`;
  const load = region.load && loadBand(region.load, axis);
  if (rpm && load) return `${rpm} at ${load}`;
  return rpm ?? (load ? `off idle at ${load}` : 'all speeds and loads off idle');
}

/** The longest visits of a cell, in order of time. */
export function cellPlaces(cell: Cell, most = 3): Place[] {
  return [...cell.visits]
    .sort((a, b) => b.endS - b.startS - (a.endS - a.startS) || a.startS - b.startS)
    .slice(0, most)
    .sort((a, b) => a.startS - b.startS)
    .map(({ startS, endS, rpm }) => ({ start: startS, end: endS, rpm: [Math.round(rpm[0]), Math.round(rpm[1])] }));
}

/** `"Bank 1: idle +14.1 % (13.6 to 14.7 %), 45 s, worth 31 independent readings"`. */
export function cellWords(bank: number, cell: Cell, axis: LoadAxis | undefined, limit?: Marks): string {
  return `bank ${bank}, ${regionWords(cell.region, axis)}: ${signedPercent(cell.medianPercent, limit)} (${signedPercent(cell.lowPercent)} to ${signedPercent(cell.highPercent)}) over ${secondsWords(cell.dwellS)}, worth ${cell.effectiveN.toFixed(0)} independent readings`;
}

/** How much of the log was judged, and what became of the rest. */
export function exclusionWords(survey: TrimSurvey): string {
  const total = survey.seconds.reduce((sum, part) => sum + part.seconds, 0);
  const parts = survey.seconds
    .filter((part) => part.reason !== 'kept' && part.seconds > 0)
    .map((part) => `${part.reason} ${secondsWords(part.seconds)}`);
  const left = parts.length > 0 ? ` Left out: ${parts.join(', ')}.` : ' Nothing was left out.';
  return `${secondsWords(survey.keptS)} of ${secondsWords(total)} are warm, closed loop and steady, and were judged.${left}`;
}

/** What the early part of the log says about adaptation. */
export function adaptationWords(bank: BankTrims): string {
  const { comparable, evident, settles, endS, earlyMinusSettled } = bank.adaptation;
  const named = `Bank ${bank.bank}:`;
  if (evident && settles) {
    return `${named} trims up to ${secondsWords(endS)} were still adapting: they differ by ${signedPercent(earlyMinusSettled)} from the later ones and decay towards them. Level and drift stand on the settled part.`;
  }
  if (evident) {
    return `${named} the trims were still adapting, and too little judged time follows; the level stands on adapting trims. Log again after ten minutes of mixed driving.`;
  }
  if (!comparable) {
    return `${named} early and settled trims cannot be told apart: no operating region was held before and after ${secondsWords(endS)}. After a flash the first minutes still adapt.`;
  }
  return `${named} trims up to ${secondsWords(endS)} differ by ${signedPercent(earlyMinusSettled)} from the later ones in the same cells, without the decay of adaptation; the whole log is used.`;
}

/** Trims at their stop, purge-like steps, a trim that is not logged: what makes the true error differ from the shown one. */
export function conditionWords(survey: TrimSurvey): string[] {
  const words: string[] = [...survey.grid.notes];
  for (const bank of survey.banks) {
    if (bank.parts !== 'both') {
      const [has, lacks] = bank.parts === 'short' ? ['short', 'long'] : ['long', 'short'];
      words.push(
        `Bank ${bank.bank}: only the ${has} term trim is logged. It is judged alone and its interval widened; a correction that sits in the ${lacks} term trim would not be seen.`,
      );
    }
    for (const stop of bank.stops) {
      words.push(
        `Bank ${bank.bank}: the ${stop.trim} trim stands at ${signedPercent(stop.atPercent)} for ${secondsWords(stop.seconds)}, likely the end of its range: the true error is larger than shown.`,
      );
    }
  }
  if (survey.purges.length > 0) {
    const steps = survey.purges
      .slice(0, 3)
      .map(
        (step) =>
          `${signedPercent(step.heightPercent)} from ${secondsWords(step.startS)} to ${secondsWords(step.endS)}`,
      );
    words.push(
      `${survey.purges.length} purge-like step${survey.purges.length > 1 ? 's' : ''} left out: ${steps.join('; ')}. Trim stepped and came back while engine speed and load stayed put.`,
    );
  }
  return words;
}

/** What was judged, and what the log could not show. */
export function coverageWords(survey: TrimSurvey, redlineRpm: number): string {
  const cells = survey.banks.flatMap((bank) => bank.cells.filter((cell) => cell.judged));
  const off = cells.filter((cell) => !cell.region.idle);
  const top = Math.max(0, ...off.flatMap((cell) => cell.visits.map((visit) => visit.rpm[1])));
  const load = off.map((cell) => cell.meanLoad).filter(Number.isFinite);
  const gaps = [
    cells.some((cell) => cell.region.idle) ? undefined : 'idle',
    off.length === 0 ? 'anything off idle' : undefined,
    off.length > 0 && top < 0.9 * redlineRpm ? `engine speeds above ${groupThousands(top)} rpm` : undefined,
    load.length > 0 && survey.axis
      ? `loads above about ${Math.max(...load).toFixed(0)} ${survey.axis.unit} ${survey.axis.name}`
      : undefined,
  ].filter((gap) => gap !== undefined);
  return `Not shown by this log: ${gaps.join(', ')}${gaps.length > 0 ? ', and ' : ''}full load, which runs in open loop: trims say nothing about the pull.`;
}
