import { formatNumber, formatQuantity, groupThousands } from '../../kernel/format-number.ts';
import type { Course, CourseId, CourseMark, PullCourse, PullCourses } from '../../report/pull-courses.ts';
import { displayWidth, padEndTo } from './display-width.ts';
import type { Paint } from './paint.ts';
import { sparkline, sparkMarks } from './sparkline.ts';
import { VERDICT_WORDS } from './words.ts';
import { wrap } from './wrap.ts';

type Range = readonly [number, number];

interface Quantity {
  readonly name: string;
  readonly unit: string;
  /** Less than this is not stretched over the whole height. */
  readonly leastSpan: number;
  /** Where the scale begins; what lies below is drawn as the lowest. */
  readonly bottom: (range: Range) => number;
  readonly analysers: readonly string[];
}

const QUANTITIES: Readonly<Record<CourseId, Quantity>> = {
  boost: {
    name: 'Boost',
    unit: 'kPa',
    leastSpan: 20,
    // What matters happens on top; the way up is told by its numbers.
    bottom: ([low, high]) => Math.max(low, high / 2),
    analysers: ['boost-overshoot', 'boost-spike', 'boost-creep', 'boost-target'],
  },
  duty: { name: 'Duty', unit: '%', leastSpan: 20, bottom: ([low]) => low, analysers: ['injector-duty'] },
  retard: { name: 'Retard', unit: 'deg', leastSpan: 4, bottom: () => 0, analysers: ['timing-pull'] },
};

const INDENT = '  ';
const GAP = '  ';
const WIDEST_COURSE = 72;
const MARK = '^';
/** Reads as zero. */
const LEAST_RETARD_DEG = 0.05;

type Scales = ReadonlyMap<CourseId, Range>;

/** Boost, duty and retard over engine speed in each pull in which something was found, and below them where it was found. */
export function pullCourseLines(
  courses: PullCourses | undefined,
  width: number,
  ascii: boolean,
  paint: Paint,
): string[] {
  if (!courses) return [];
  const scales = scalesOf(courses);
  const head = Math.max(...courses.pulls.flatMap(labels).map(displayWidth));
  const bands = courses.pulls[0].courses[0].values.length;
  const room = Math.min(bands, WIDEST_COURSE, width - head - GAP.length);
  const ends = axisEnds(courses, bands, room);
  const left = courses.left > 0 ? [`${courses.left} more pulls are marked; --format html draws them all.`] : [];
  return [
    '',
    ...wrap(legend(scales, ascii), width),
    ...courses.pulls.flatMap((pull) => [
      `${paint.strong(padEndTo(`Pull ${pull.pull}`, head))}${GAP}${paint.faint(ends)}`,
      ...pullLines(pull, courses, { scales, head, room, ascii, paint }),
    ]),
    ...left.flatMap((text) => wrap(text, width)),
  ];
}

interface Layout {
  readonly scales: Scales;
  /** Columns before the course, and of the course. */
  readonly head: number;
  readonly room: number;
  readonly ascii: boolean;
  readonly paint: Paint;
}

function pullLines({ courses, marks }: PullCourse, all: PullCourses, layout: Layout): string[] {
  const { scales, head, room, ascii, paint } = layout;
  const markLine = (mark: CourseMark) =>
    paint.verdict(mark.verdict, `${padEndTo(markLabel(mark), head)}${GAP}${markedColumns(mark, all, courses, room)}`);
  const drawn = courses.flatMap(({ id }) => QUANTITIES[id].analysers);
  return [
    ...courses.flatMap((course) => [
      isNothing(course)
        ? courseLabel(course)
        : `${padEndTo(courseLabel(course), head)}${GAP}${courseText(course, scales, room, ascii)}`.trimEnd(),
      ...marks.filter(({ analyser }) => QUANTITIES[course.id].analysers.includes(analyser)).map(markLine),
    ]),
    ...marks.filter(({ analyser }) => !drawn.includes(analyser)).map(markLine),
  ];
}

const labels = ({ courses, marks }: PullCourse) => [...courses.map(courseLabel), ...marks.map(markLabel)];

function courseLabel({ id, values }: Course): string {
  const { name, unit } = QUANTITIES[id];
  return `${INDENT}${name} ${isNothing({ id, values }) ? 'none' : rangeWords(extent(values), unit)}`;
}

/** No line is drawn for timing that nothing pulled. */
const isNothing = ({ id, values }: Course) => id === 'retard' && extent(values)[1] < LEAST_RETARD_DEG;

const markLabel = ({ verdict, title }: CourseMark) => `${INDENT}${VERDICT_WORDS[verdict]} ${title}`;

const rangeWords = ([low, high]: Range, unit: string) => `${formatNumber(low, unit)} to ${formatQuantity(high, unit)}`;

/** One scale a quantity over all pulls, so that they can be compared. */
function scalesOf({ pulls }: PullCourses): Scales {
  const ranges = new Map<CourseId, Range>();
  for (const { id, values } of pulls.flatMap(({ courses }) => courses.filter((course) => !isNothing(course)))) {
    ranges.set(id, extent(values, ranges.get(id)));
  }
  return new Map(
    [...ranges].map(([id, range]) => {
      const bottom = QUANTITIES[id].bottom(range);
      return [id, [bottom, Math.max(range[1], bottom + QUANTITIES[id].leastSpan)]];
    }),
  );
}

function extent(values: Float64Array, start: Range = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]): Range {
  let [low, high] = start;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

function legend(scales: Scales, ascii: boolean): string {
  const [lowest, highest] = sparkMarks(ascii);
  const ranges = [...scales].map(([id, range]) => {
    const { name, unit } = QUANTITIES[id];
    return `${name.toLowerCase()} ${rangeWords(range, unit)}`;
  });
  return `Over engine speed, the highest value of each step. From ${lowest} (or below) to ${highest}: ${ranges.join(', ')}. ${MARK} marks where a finding lies.`;
}

/** Each column covers the bands from here to where the next begins, at least one. */
const firstBand = (column: number, bands: number, room: number) => Math.floor((column * bands) / room);

function courseText({ id, values }: Course, scales: Scales, room: number, ascii: boolean): string {
  const [low, high] = scales.get(id) ?? [0, 1];
  const trace: (number | null)[] = [];
  for (let column = 0; column < room; column++) {
    const part = values.subarray(firstBand(column, values.length, room), firstBand(column + 1, values.length, room));
    const [, highest] = extent(part);
    trace.push(Number.isFinite(highest) ? Math.max(0, (highest - low) / (high - low)) : null);
  }
  return sparkline(trace, ascii);
}

function markedColumns(
  { rpm }: CourseMark,
  { fromRpm, bandRpm }: PullCourses,
  [{ values }]: readonly Course[],
  room: number,
): string {
  const column = (speed: number) =>
    Math.max(0, Math.min(room - 1, Math.floor((room * (speed - fromRpm)) / (bandRpm * values.length))));
  const columns = new Array<string>(room).fill(' ');
  for (const [from, to] of rpm) columns.fill(MARK, column(from), column(to) + 1);
  return columns.join('').trimEnd();
}

function axisEnds({ fromRpm, bandRpm }: PullCourses, bands: number, room: number): string {
  const [first, last] = [fromRpm, fromRpm + bands * bandRpm].map((speed) => `${groupThousands(speed)} rpm`);
  return `${first}${' '.repeat(Math.max(1, room - first.length - last.length))}${last}`;
}
