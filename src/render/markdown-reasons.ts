import type { Finding } from '../analysers/finding.ts';
import { graveFindings } from '../report/key-findings.ts';
import type { Report } from '../report/report-schema.ts';
import { markdownCode as code, markdownText as md } from './markdown-text.ts';
import { placeList } from './place-list.ts';
import { limitWords, measuredWords, requiredTitle, VERDICT_WORDS } from './terminal/words.ts';

const TOP_PLACES = 3;

/** Every warning and failing finding; a cause that several share is told once. */
export function reasonsOnce(report: Report): string[] {
  const told = new Set<string>();
  const isNew = (text: string) => !told.has(text) && told.add(text) !== undefined;
  return graveFindings(report).flatMap(({ finding }) =>
    reasonLines({ ...finding, causes: finding.causes.filter((cause) => isNew(JSON.stringify(cause))) }),
  );
}

/** Answers that the build sheet requires and that are missing. */
export function missingAnswers({ requiredOpen = [] }: Report): string[] {
  return requiredOpen.flatMap(({ title, why }) => [`- **OPEN** ${md(requiredTitle(title))}`, `  - ${md(why)}`]);
}

function reasonLines({ id, verdict, title, measured, limit, where, reasoning, causes }: Finding): string[] {
  const numbers = [...(measured ? [measuredWords(measured, limit)] : []), ...(limit ? [limitWords(limit)] : [])].join(
    '; ',
  );
  const evidence = causes.map((cause) => {
    const told = [...cause.for.map((text) => `for: ${text}`), ...cause.against.map((text) => `against: ${text}`)];
    return `  - Possible cause: ${md(cause.cause + (told.length > 0 ? ` (${told.join('; ')})` : ''))}`;
  });
  return [
    `- **${VERDICT_WORDS[verdict]}** ${md(title)} (${code(id)})`,
    ...(numbers ? [`  - ${md(`${numbers}.`)}`] : []),
    ...(where.length > 0 ? [`  - Where: ${md(placeList(where, TOP_PLACES))}.`] : []),
    ...reasoning.map((line) => `  - ${md(line)}`),
    ...evidence,
  ];
}
