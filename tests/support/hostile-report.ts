import { mapTexts } from '../../src/report/map-texts.ts';
import type { Report } from '../../src/report/report-schema.ts';
import { sampleReport } from './sample-report.ts';

/** What a header, a title or a file name may try. */
export const HOSTILE_TEXTS: readonly string[] = [
  '<script>document.title="ran"</script>',
  '"><img src=x onerror=document.title="ran">',
  "'></style></title></textarea><svg onload=document.title='ran'>",
  '--><!-- ]]> <![CDATA[ <?xml &amp;lt; &unknown;',
  'javascript:alert(1) [x](javascript:alert(1)) ![x](https://example.com/x.png)',
  '=HYPERLINK("http://example.com","x") | cell; =1+1',
  '@SUM(1) +1 -1 #12 @someone www.example.com https://example.com',
  '\u0000\u0008\u001b[31mred\ufffe \ud800 \u202eevil\u2028line',
  '`code` ``` *b* _i_ ~~s~~ $x$ \\',
  'line\nbreak\r\n# heading\n- item\ttab',
];

/** The sample report with hostile words, each numbered so that it stays its own, at the places that people and loggers fill. */
export function hostileReport(hostile: string): Report {
  const report = sampleReport();
  const ids = new Set([...report.analysers.map(({ id }) => id), ...report.channels.map(({ id }) => id)]);
  const findingIds = new Set(report.analysers.flatMap(({ findings }) => findings.map(({ id }) => id)));
  const kept = (text: string) =>
    ids.has(text) ||
    findingIds.has(text) ||
    ['pass', 'warn', 'fail', 'not-assessed', 'report/1', 'pullgate'].includes(text) ||
    /^[0-9a-f]{64}$/.test(text);
  let n = 0;
  return mapTexts(report, (text) => (kept(text) ? text : `${hostile}${n++}`));
}
