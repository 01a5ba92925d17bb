import { describe, expect, it } from 'vitest';
import { BENCH_MAPPING } from '../bench/bench-log.ts';
import { runHere } from '../cli/run-here.ts';
import { BUILD, GOOD_LOG, workspace } from '../cli/workspace.ts';

const [header, ...rows] = GOOD_LOG.trimEnd().split('\n');
const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;

/** The good log with more columns: name, and the cell in every row. */
function logWith(more: readonly (readonly [name: string, cell: string])[], from = header): string {
  const names = more.map(([name]) => quoted(name));
  const cells = more.map(([, cell]) => quoted(cell));
  return `${[[from, ...names], ...rows.slice(0, 900).map((row) => [row, ...cells])].map((line) => line.join(',')).join('\n')}\n`;
}

/** Everything the program says about a log, in every format of every command. */
async function allThatIsSaid(log: string, mapping: object | undefined): Promise<string> {
  const shop = workspace({
    'log.csv': log,
    'pullgate.build.json': BUILD,
    ...(mapping && { 'pullgate.map.json': mapping }),
  });
  const runs: string[][] = [
    ['check', 'log.csv'],
    ['check', 'log.csv', '-f', 'json'],
    ['survey', 'log.csv'],
    ['survey', 'log.csv', '-f', 'json'],
    ['map', 'log.csv'],
  ];
  let said = '';
  for (const args of runs) {
    const { stdout, stderr } = await runHere(args, shop.path);
    expect(stderr).not.toContain('a fault in pullgate');
    said += stdout + stderr;
  }
  shop.remove();
  return said;
}

const PERSONAL: readonly (readonly [string, string])[] = [
  ['Latitude', '48.137154'],
  ['GPS Longitude (deg)', '11.576124'],
  ['Breitengrad', '48.137154'],
  ['Posición GPS', '48.137154'],
  ['Standort', 'Musterhausen'],
  ['VIN', '1XYZZ99AB9C123456'],
  ['Chassis no.', 'ABC-4711'],
  ['Kennzeichen', 'M-XX 4711'],
  ['License plate', 'M-XX 4711'],
  ['Targa', 'ZZ 471 YY'],
  ['Immatriculation', 'ZZ-471-YY'],
  ['Fahrer', 'Erika Beispiel'],
  ['DriverName', 'Erika Beispiel'],
  ['Propriétaire', 'Erika Beispiel'],
  ['Cliente', 'Erika Beispiel'],
  ['E-Mail', 'erika@example.org'],
  ['Telefono', '0555 4711'],
  ['Adresse', 'Musterweg 4711'],
];

const SECRETS = /48\.137|11\.576|Musterhausen|1XYZZ99AB9C|4711|471 ?-?YY|Erika|example\.org|Musterweg/;
const NAMES = new RegExp(PERSONAL.map(([name]) => name.replace(/[.()]/g, '\\$&')).join('|'));

describe('what tells who, where or which car', () => {
  it.each([
    ['a mapping', BENCH_MAPPING],
    ['no mapping', undefined],
  ])(
    'is never said, with %s',
    async (_how, mapping) => {
      const said = await allThatIsSaid(logWith(PERSONAL), mapping);
      expect(said.length).toBeGreaterThan(5000);
      expect(said).not.toMatch(SECRETS);
      expect(said).not.toMatch(NAMES);
    },
    60_000,
  );

  it('is not named where two columns share such a name', async () => {
    const twice = PERSONAL.flatMap((column) => [column, column]);
    const said = await allThatIsSaid(logWith([...twice, ['Spare 1', '1']]), BENCH_MAPPING);
    expect(said).toMatch(/Some columns share a name; the later ones were renamed: "Spare 1 \(2\)" and \d+ more\./);
    expect(said).not.toMatch(SECRETS);
    expect(said).not.toMatch(NAMES);
  }, 60_000);

  it('is not offered as a near name, nor among the names of the log', async () => {
    for (const wanted of ['Latitud', 'VIN2', 'Kennzeichn', 'Fahrer 1', 'zzzzzz']) {
      const mapping = { ...BENCH_MAPPING, channels: { ...BENCH_MAPPING.channels, gear: wanted } };
      const said = (await allThatIsSaid(logWith(PERSONAL), mapping)).replaceAll(wanted, '');
      expect(said).toMatch(/the log has no column/);
      expect(said).not.toMatch(SECRETS);
      expect(said).not.toMatch(NAMES);
    }
  }, 120_000);

  it('is not said of a column that the mapping names in spite of it', async () => {
    const mapping = {
      ...BENCH_MAPPING,
      channels: { ...BENCH_MAPPING.channels, gear: 'Fahrer', fuel_system_status: 'VIN' },
    };
    const said = await allThatIsSaid(logWith(PERSONAL), mapping);
    expect(said).not.toMatch(SECRETS);
  }, 60_000);

  it('is not said of the names in a row-per-sample log, where the wrong column is given for the names', async () => {
    const long = Array.from({ length: 60 }, (_, i) => [
      `${i / 10},Erika Beispiel,RPM,${900 + i}`,
      `${i / 10},Max Beispiel,VIN,1`,
      `${i / 10},Erika Beispiel,Latitude,48.137`,
    ]).flat();
    const mapping = (name: string) => ({
      pullgate: 'map/1',
      layout: 'long',
      long: { name, value: 'Value' },
      time: { column: 'Time', unit: 's' },
      channels: { engine_speed: 'Drehzahl' },
    });
    for (const name of ['Fahrer', 'Signal']) {
      const said = await allThatIsSaid(`Time,Fahrer,Signal,Value\n${long.join('\n')}\n`, mapping(name));
      expect(said).toMatch(/the log has no column "Drehzahl"/);
      expect(said).not.toMatch(/Beispiel|48\.137|"VIN"|"Latitude"/);
    }
  }, 60_000);
});

describe('column names made to do harm', () => {
  const HARMFUL = [
    'Boost\u001b[2J\u001b]0;title\u0007',
    'AFR\u009b31m',
    "=cmd|' /C calc'!A0",
    '+SUM(A1:A9)',
    '@import',
    '<script>alert(1)</script>',
    '<img src=x onerror=alert(1)>',
    'a\u202egnp\u2066x',
    'line\u2028break',
    '__proto__',
    'constructor',
    '$(reboot)',
    '`reboot`',
    '| pipe | table |',
    ']]></failure>',
  ];

  it('are plain text everywhere, and reach no terminal as a command', async () => {
    const mapping = {
      ...BENCH_MAPPING,
      channels: { ...BENCH_MAPPING.channels, gear: "=cmd|' /C calc'!A0", misfire_count: '__proto__' },
    };
    const log = logWith(HARMFUL.map((name) => [name, '3']));
    for (const given of [mapping, undefined]) {
      const said = await allThatIsSaid(log, given);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these must not be printed
      expect(said).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2066-\u2069]/);
    }
    expect(Object.keys(Object.prototype)).toEqual([]);
  }, 60_000);
});
