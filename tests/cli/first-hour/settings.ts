import { BUILD, MAPPING } from '../workspace.ts';
import { build, changed, log, MAP_PRESSURE, map, mapping } from './changed-log.ts';
import type { Mistake } from './mistake.ts';

const engine = (part: object) => build({ engine: { ...BUILD.engine, ...part } });
const boost = (part: object) => build({ boost: { ...BUILD.boost, ...part } });
const limit = (levels: object) => build({ limits: { 'injector-duty.peak': levels } });
const jsonMap = JSON.stringify(MAPPING, null, 1);

export const SETTINGS: readonly Mistake[] = [
  ['misspelt key', build({ injektors: {} }), 'check run.csv', 2, ['injektors', 'Did you mean "injectors"?']],
  [
    'misspelt channel',
    map(mapping({ engine_sped: 'x' })),
    'check run.csv',
    2,
    ['channels.engine_sped', 'Did you mean "engine_speed"?'],
  ],
  [
    'channel by its trade name',
    map(mapping({ rpm: 'x', boost: 'y' })),
    'check run.csv',
    2,
    ['"rpm" is not a key', 'Write "engine_speed"', 'Write "manifold_pressure"'],
  ],
  [
    'missing comma',
    map(jsonMap.replace('(invented)",', '(invented)"')),
    'check run.csv',
    2,
    ['pullgate.map.json:4:2', 'a missing comma before this', 'after each entry'],
  ],
  [
    'single quotes',
    map(jsonMap.replaceAll('"', "'")),
    'check run.csv',
    2,
    ['not valid JSON', 'straight double quotes'],
  ],
  ['mapping saved as UTF-16', map(Buffer.from(`\ufeff${jsonMap}`, 'utf16le')), 'check run.csv -q', 0, ['GATE OPEN']],
  [
    'mapping saved as Windows-1252',
    map(Buffer.from(jsonMap.replace('Bench', 'B\xe4nch'), 'latin1')),
    'check run.csv',
    2,
    ['not UTF-8 text', 'Save it as UTF-8'],
  ],
  [
    'bare number',
    engine({ redline: 6900 }),
    'check run.csv',
    2,
    ['engine.redline: found the number 6900', 'for example "6900 rpm"'],
  ],
  [
    'number in quotes without unit',
    engine({ redline: '6900' }),
    'check run.csv',
    2,
    ['"6900" has no unit', 'Write it as "6900 rpm"'],
  ],
  [
    'count in quotes',
    engine({ cylinders: '4' }),
    'check run.csv',
    2,
    ['engine.cylinders: found "4"', 'without quotes'],
  ],
  [
    'unit of something else',
    boost({ target: '0.8 rpm' }),
    'check run.csv',
    2,
    ['"0.8 rpm" is no pressure', '"0.9 bar"'],
  ],
  ['unknown unit', boost({ target: '0.8 brs' }), 'check run.csv', 2, ['"brs" is not a unit known here', '"0.9 bar"']],
  [
    'unknown unit of a channel',
    map(mapping({ manifold_pressure: { column: MAP_PRESSURE, unit: 'kpascal' } })),
    'check run.csv',
    2,
    ['"kpascal" is not a unit', 'kPa, bar, mbar'],
  ],
  [
    'redline too low',
    engine({ redline: '3500 rpm' }),
    'check run.csv',
    2,
    ['engine.redline: the redline is 3,500 rpm', 'up to 6,704 rpm', 'Correct the redline'],
  ],
  [
    'redline in thousands',
    engine({ redline: '6.9 rpm' }),
    'check run.csv',
    2,
    ['"6.9 rpm" cannot be right', '"6900 rpm"'],
  ],
  [
    'displacement in the wrong unit',
    engine({ displacement: '2.0 cc' }),
    'check run.csv',
    2,
    ['"2.0 cc" cannot be right', '"2.0 L"'],
  ],
  [
    'ethanol as a share',
    build({ fuel: { ethanol: '0.85 %' } }),
    'check run.csv',
    2,
    ['"0.85 %" is less than one per cent', 'write "85 %"'],
  ],
  [
    'ethanol as a share in the log',
    log(
      changed('Spare 1', () => 0.85),
      map(mapping({ ethanol_content: 'Spare 1' })),
    ),
    'check run.csv',
    1,
    ['ethanol_content', 'a share of one', '"unit": "ratio"'],
  ],
  [
    'limit in another unit',
    limit({ warn: '80 kPa' }),
    'check run.csv',
    2,
    ['limits["injector-duty.peak"].warn: "80 kPa" is no percent', '"85 %"'],
  ],
  ['limit as a bare number', limit({ warn: 80 }), 'check run.csv', 2, ['found the number 80', 'for example "80 %"']],
  [
    'limits in the wrong order',
    limit({ warn: '95 %', fail: '80 %' }),
    'check run.csv',
    2,
    ['warn at 95 % lies above fail at 80 %', 'the lower one as warn'],
  ],
  [
    'limit above the default of the other',
    limit({ warn: '95 %' }),
    'check run.csv',
    2,
    ['fail at 92 % (the default)', 'Write both'],
  ],
  [
    'limit as a share',
    limit({ warn: '0.8 %' }),
    'check run.csv',
    2,
    ['"0.8 %" is less than one per cent', 'write "80 %"'],
  ],
  [
    'unknown limit',
    build({ limits: { 'injector-duty': {} } }),
    'check run.csv',
    2,
    ['no limit "injector-duty"', 'injector-duty.peak'],
  ],
];
