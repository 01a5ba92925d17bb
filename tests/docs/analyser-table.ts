import type { Analyser } from '../../src/analysers/analyser.ts';
import type { LimitDefinition } from '../../src/build-sheet/limit.ts';
import { formatNumber } from '../../src/kernel/format-number.ts';

export const TABLE_START = '<!-- analysers: written by "npm run docs" -->';
export const TABLE_END = '<!-- /analysers -->';

/** The README's table of analysers and default limits, as Markdown. */
export function analyserTable(analysers: readonly Analyser[]): string {
  const head = ['| analyser | question | measure | warn | fail | source |', '|---|---|---|---|---|---|'];
  const rows = analysers.flatMap(({ meta }) => {
    if (meta.limits.length === 0) return [row([`\`${meta.id}\``, meta.question, 'no limit of its own', '–', '–', '–'])];
    return meta.limits.map((limit, i) =>
      row([
        i === 0 ? `\`${meta.id}\`` : '',
        i === 0 ? meta.question : '',
        `\`${limit.id}\`: ${limit.title} (${limit.unit})`,
        level(limit.warn, limit),
        level(limit.fail, limit),
        limit.source,
      ]),
    );
  });
  return [...head, ...rows].join('\n');
}

function row(cells: readonly string[]): string {
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
}

function level(value: number | undefined, { unit }: LimitDefinition): string {
  return value === undefined ? '–' : String(Number(formatNumber(value, unit)));
}
