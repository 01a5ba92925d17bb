import { describe, expect, it } from 'vitest';
import { noPaint, type Paint } from '../../../src/render/terminal/paint.ts';
import { pullCourseLines } from '../../../src/render/terminal/pull-course-lines.ts';
import type { CourseMark, PullCourses } from '../../../src/report/pull-courses.ts';

const BANDS = 80;
const BAND_RPM = 50;
const FROM_RPM = 2500;

const over = (value: (rpm: number) => number) =>
  Float64Array.from({ length: BANDS }, (_, i) => value(FROM_RPM + (i + 0.5) * BAND_RPM));

/** One pull from 2,500 to 6,500 rpm: boost rises to 80 kPa at 3,500 rpm, cylinder retard stands at 6° from 4,500 to 5,000 rpm. */
function courses(marks: readonly CourseMark[] = [], left = 0): PullCourses {
  return {
    fromRpm: FROM_RPM,
    bandRpm: BAND_RPM,
    left,
    pulls: [
      {
        pull: 3,
        marks,
        courses: [
          { id: 'boost', values: over((rpm) => Math.min(80, (80 * (rpm - FROM_RPM)) / 1000)) },
          { id: 'duty', values: over((rpm) => (rpm > 6000 ? Number.NaN : 30 + rpm / 100)) },
          { id: 'retard', values: over((rpm) => (rpm > 4500 && rpm < 5000 ? 6 : 0)) },
        ],
      },
    ],
  };
}

const mark = (changes: Partial<CourseMark> = {}): CourseMark => ({
  analyser: 'timing-pull',
  title: 'Timing pull',
  verdict: 'fail',
  rpm: [[4500, 5000]],
  ...changes,
});

const lines = (given: PullCourses, { width = 80, ascii = false, paint = noPaint as Paint } = {}) =>
  pullCourseLines(given, width, ascii, paint);

const row = (all: readonly string[], start: string) => all.find((line) => line.trimStart().startsWith(start)) ?? '';

describe('courses of a pull', () => {
  it('are nothing where nothing was found', () => {
    expect(pullCourseLines(undefined, 80, false, noPaint)).toEqual([]);
  });

  it.each([60, 80, 120, 200])('mark the place under the line, at %i columns', (width) => {
    const all = lines(courses([mark()]), { width });
    const retard = row(all, 'Retard');
    const marked = row(all, 'FAIL Timing pull');
    expect(all.indexOf(marked)).toBe(all.indexOf(retard) + 1);
    expect(Math.abs(marked.indexOf('^') - retard.indexOf('█'))).toBeLessThanOrEqual(1);
    expect(Math.abs(marked.lastIndexOf('^') - retard.lastIndexOf('█'))).toBeLessThanOrEqual(1);
  });

  it('say the ends of the scale: engine speed above, lowest and highest with unit beside', () => {
    const all = lines(courses([mark()]));
    const head = row(all, 'Pull 3');
    expect(head).toMatch(/^Pull 3 +2,500 rpm +6,500 rpm$/);
    expect(row(all, 'Boost')).toMatch(/^ {2}Boost 2\.0 to 80\.0 kPa {2}/);
    expect(row(all, 'Retard')).toMatch(/^ {2}Retard 0\.0 to 6\.0° {2,}▁+█+▁+$/);
    expect(head.indexOf('2,500')).toBe(row(all, 'Retard').indexOf('▁'));
    expect(head.length).toBe(row(all, 'Retard').length);
    expect(all.join(' ')).toContain('boost 40.0 to 80.0 kPa');
  });

  it('leave a blank where the log is silent', () => {
    const all = lines(courses([mark()]), { width: 130 });
    const [duty, boost] = [row(all, 'Duty'), row(all, 'Boost')];
    // 6,000 of 2,500 to 6,500 rpm is seven eighths of the way.
    const start = boost.indexOf('▁');
    expect((duty.length - start) / (boost.length - start)).toBeCloseTo(7 / 8, 1);
  });

  it('are plain ASCII where the terminal asks for it, but for the degree sign', () => {
    const all = lines(courses([mark()]), { ascii: true });
    expect(all.join('\n').replaceAll('°', '')).toMatch(/^[\n\x20-\x7e]*$/);
    expect(row(all, 'Retard')).toMatch(/_+@+_+$/);
    expect(all.join(' ')).toContain('From _ (or below) to @');
  });

  it('do not draw timing that nothing pulled, and do not stretch noise', () => {
    const { pulls, ...rest } = courses([mark({ analyser: 'boost-creep', title: 'Boost creep' })]);
    const quiet = pulls.map((pull) => ({
      ...pull,
      courses: [
        { id: 'boost' as const, values: over((rpm) => 80 + Math.sin(rpm)) },
        { id: 'retard' as const, values: over(() => 0) },
      ],
    }));
    const all = lines({ ...rest, pulls: quiet });
    expect(row(all, 'Retard')).toBe('  Retard none');
    expect(new Set(row(all, 'Boost').replace(/^.* {2}/, '')).size).toBe(1);
  });

  it('mark what has no line of its own below, and say how many pulls are left out', () => {
    const all = lines(courses([mark({ analyser: 'mixture', title: 'Full-load mixture', verdict: 'warn' })], 2));
    expect(all.indexOf(row(all, 'WARN Full-load mixture'))).toBe(all.indexOf(row(all, 'Retard')) + 1);
    expect(all.at(-1)).toBe('2 more pulls are marked; --format html draws them all.');
  });

  it('keep a mark outside the scale at its end', () => {
    const all = lines(courses([mark({ rpm: [[100, 200]] }), mark({ analyser: 'x', title: 'X', rpm: [[9000, 9900]] })]));
    expect(row(all, 'FAIL Timing pull').indexOf('^')).toBe(row(all, 'Retard').indexOf('▁'));
    expect(row(all, 'FAIL X').length).toBe(row(all, 'Retard').length);
  });

  it('say the same with colour', () => {
    const paint: Paint = {
      verdict: (_v, text) => `<${text}>`,
      strong: (text) => `<${text}>`,
      faint: (text) => `<${text}>`,
    };
    const coloured = lines(courses([mark()]), { paint }).map((line) => line.replaceAll(/[<>]/g, ''));
    expect(coloured).toEqual(lines(courses([mark()])));
  });
});
