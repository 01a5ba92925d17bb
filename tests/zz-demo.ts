import { readFileSync, readdirSync } from 'node:fs';
import { normalise } from '../src/channels/normalise.ts';
import { parseBuildSheet } from '../src/build-sheet/read-build-sheet.ts';
import { segmentDrive } from '../src/drive/segment-drive.ts';
import { readMapped } from '../src/run/read-mapped.ts';
import { mixture } from '../src/analysers/mixture.ts';
import { fuelPressure } from '../src/analysers/fuel-pressure.ts';
import { chargeTemperature } from '../src/analysers/charge-temperature.ts';
import { temperatures } from '../src/analysers/temperatures.ts';
import { worst } from '../src/analysers/wording.ts';
for (const dir of [...readdirSync('demo-logs').filter((d) => !d.includes('.')).map((d) => `demo-logs/${d}`), 'fixtures/logs']) for (const f of readdirSync(dir).filter((x) => x.endsWith('.csv'))) {
  const m = readFileSync(`${dir}/pullgate.map.json`, 'utf8'), b = readFileSync(`${dir}/pullgate.build.json`, 'utf8');
  const input: any = { name: f, chunks: [readFileSync(`${dir}/${f}`)], mapping: { text: m, name: 'm' }, build: { text: b, name: 'b' }, version: 'x' };
  const build = parseBuildSheet(b, 'b');
  const { table, mapping, columnNames } = readMapped(input) as any;
  const recording = normalise(table, mapping, { barometricKpa: build.ambient.barometricKpa, barometricFrom: build.ambient.source, columnNames } as any);
  const t0 = performance.now();
  const drive = segmentDrive(recording, build);
  for (const a of [mixture, fuelPressure, chargeTemperature, temperatures]) {
    const limits = new Map(a.meta.limits.map((l: any) => [l.id, { ...l, from: 'default' }])) as any;
    const t1 = performance.now();
    const r = a.assess(drive, { build, limits, codes: [] });
    console.log(f, a.meta.id, worst(r.findings), r.summary, (performance.now() - t1).toFixed(0), 'ms');
    if (process.env.V) for (const x of r.findings) console.log('  ', x.id, x.verdict, x.title, '\n      ', x.reasoning.join('\n       '), '\n       D:', x.detectable, '\n       C:', JSON.stringify(x.causes));
  }
}
