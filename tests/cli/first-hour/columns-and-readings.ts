import { GOOD_LOG } from '../workspace.ts';
import { changed, eachRow, log, MAP_PRESSURE, map, mapping, NAMES, renamed, stretch, without } from './changed-log.ts';
import type { Mistake } from './mistake.ts';

const noKnock = Object.fromEntries([1, 2, 3, 4].map((n) => [`knock_retard_${n}`, undefined]));
const pedals = (factor: number) =>
  eachRow((cells) =>
    cells.map((cell, i) => (/Throttle|Pedal|Load/.test(NAMES[i]) ? String(Number(cell) * factor) : cell)),
  );

export const COLUMNS: readonly Mistake[] = [
  [
    'wrong column name',
    map(mapping({ engine_speed: 'Enginespeed rpms' })),
    'check run.csv',
    2,
    ['no column "Enginespeed rpms"', 'Did you mean "Engine speed (rpm)"?'],
  ],
  [
    'log of another car',
    log(
      eachRow(
        (cells) => cells,
        NAMES.map((name, i) => (i === 0 ? name : `P${i}`)),
      ),
    ),
    'check run.csv',
    2,
    ['27 of the 28 columns', 'the mapping of another logger', 'pullgate map LOG'],
  ],
  [
    'two columns alike',
    log(renamed('Spare 1', 'engine speed'), map(mapping({ engine_speed: 'EngineSpeed' }))),
    'check run.csv',
    2,
    ['may mean 2 columns', 'exactly as in the header'],
  ],
  [
    'two columns of one name',
    log(renamed('Spare 1', 'Engine speed (rpm)')),
    'check run.csv',
    2,
    ['several columns are named "Engine speed (rpm)", and they differ', '"Engine speed (rpm) (2)"'],
  ],
  ['no time column', log(without('Time (s)')), 'check run.csv', 2, ['no column "Time (s)"', '"time": { "rate": 20 }']],
  [
    'another column as time',
    map(mapping({}, { time: { column: 'Coolant (degC)' } })),
    'check run.csv',
    2,
    ['"Coolant (degC)" goes back in', 'Name the column that holds the time'],
  ],
  [
    'milliseconds read as seconds',
    log(changed('Time (s)', (s) => 1000 * s)),
    'check run.csv',
    2,
    ['puts the rows 50 s apart', '"unit": "ms"'],
  ],
  [
    'seconds read as milliseconds',
    map(mapping({}, { time: { column: 'Time (s)', unit: 'ms' } })),
    'check run.csv',
    2,
    ['puts the rows 0.00005 s apart', '"unit": "s"'],
  ],
  ['semicolons', log(GOOD_LOG.replaceAll(',', ';')), 'check run.csv -q', 0, ['GATE OPEN']],
  [
    'decimal commas and semicolons',
    log(GOOD_LOG.replaceAll(',', ';').replaceAll('.', ',')),
    'check run.csv -q',
    0,
    ['GATE OPEN'],
  ],
  ['UTF-16', log(Buffer.from(`\ufeff${GOOD_LOG}`, 'utf16le')), 'check run.csv -q', 0, ['GATE OPEN']],
  [
    'decimal commas between commas',
    log(GOOD_LOG.replaceAll('.', ',')),
    'check run.csv',
    2,
    ['more cells than the header has names', 'Decimal commas'],
  ],
  [
    'decimal commas, and the mapping says point',
    log(GOOD_LOG.replaceAll(',', ';').replaceAll('.', ','), map(mapping({}, { dialect: { decimalChar: '.' } }))),
    'check run.csv',
    2,
    ['decimal commas, and the dialect says a point', 'dialect.decimalChar'],
  ],
  [
    'semicolons, and the mapping says commas',
    log(GOOD_LOG.replaceAll(',', ';'), map(mapping({}, { dialect: { delimiter: ',' } }))),
    'check run.csv',
    2,
    ['comma, does not occur', 'separated by semicolon', 'leave it out'],
  ],
];

export const READINGS: readonly Mistake[] = [
  ['no pull', log(stretch(0, 44)), 'check run.csv', 0, ['no pull was found', 'Drive a full-load pull']],
  ['idle only', log(stretch(0, 20)), 'check run.csv', 0, ['No full-load pull in this log', 'Drive a full-load pull']],
  [
    'pull too short',
    log(stretch(0, 46.5)),
    'check run.csv',
    0,
    ['it lasts 1.4 s, and 1.5 s are needed', 'Drive a full-load pull in one gear'],
  ],
  [
    'pedal, throttle and load that never read full',
    log(pedals(0.6)),
    'check run.csv',
    0,
    ['Full load was never reached', 'Drive a full-load pull'],
  ],
  [
    'no knock channel and no advance',
    map(mapping({ ...noKnock, spark_advance: undefined })),
    'check run.csv',
    0,
    ['NOT ASSESSED Timing pull', 'knock_retard'],
  ],
  [
    'no mixture channel',
    map(mapping({ lambda: undefined })),
    'check run.csv',
    0,
    ['NOT ASSESSED Full-load mixture', 'Log lambda'],
  ],
  ['one row a second', log(stretch(0, 150, 20)), 'check run.csv', 0, ['NOT ASSESSED Boost spikes', 'Hz or more']],
  [
    'gauge mapped as absolute',
    log(
      changed(MAP_PRESSURE, (kpa) => kpa - 99),
      map(mapping({ manifold_pressure: { column: MAP_PRESSURE, reference: 'absolute' } })),
    ),
    'check run.csv',
    1,
    ['looks like gauge but is read as absolute', '"reference": "gauge"'],
  ],
  [
    'absolute mapped as gauge',
    map(mapping({ manifold_pressure: { column: MAP_PRESSURE, reference: 'gauge' } })),
    'check run.csv',
    1,
    ['looks absolute but is read as gauge', '"reference": "absolute"'],
  ],
  [
    'air-fuel ratio mapped as lambda',
    log(changed('Lambda', (lambda) => 14.7 * lambda)),
    'check run.csv',
    1,
    ['is an air-fuel ratio and no lambda', '"unit": "AFR"'],
  ],
  [
    'lambda mapped as air-fuel ratio',
    map(mapping({ lambda: { column: 'Lambda', unit: 'AFR' } })),
    'check run.csv',
    1,
    ['at which nothing burns', '"unit": "lambda"'],
  ],
  [
    'pulse width in microseconds',
    log(changed('Pulse width (ms)', (ms) => 1000 * ms)),
    'check run.csv',
    1,
    ['longer than a whole engine cycle', '"unit": "us"'],
  ],
  [
    'knock retard with the sign turned',
    log(changed('Retard 2 (deg)', (_, row) => (row > 1000 && row < 1020 ? -4.5 : 0))),
    'check run.csv',
    1,
    ['only goes below zero', '"scale": -1'],
  ],
  [
    'pedal and throttle as a share of one',
    log(
      eachRow((cells) => cells.map((cell, i) => (/Throttle|Pedal/.test(NAMES[i]) ? String(Number(cell) / 100) : cell))),
    ),
    'check run.csv',
    1,
    ['is a share of one', '"unit": "ratio"'],
  ],
];
