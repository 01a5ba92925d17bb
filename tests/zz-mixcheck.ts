import { normalise } from '../src/channels/normalise.ts';
import { parseBuildSheet } from '../src/build-sheet/read-build-sheet.ts';
import { segmentDrive } from '../src/drive/segment-drive.ts';
import { readMapped } from '../src/run/read-mapped.ts';
import { simulateCase } from './support/simulate.ts';
import { mixture } from '../src/analysers/mixture.ts';
import { worst } from '../src/analysers/wording.ts';
const extra = await Promise.all(process.argv.slice(4).map(async (n) => { const m = await import(`../src/analysers/${n}.ts`); return Object.values(m).find((v: any) => v?.meta) as any; }));
const analysers = [mixture, ...extra];
const [from, to] = [Number(process.argv[2]), Number(process.argv[3])];
const verbose = process.env.V;
const counts: Record<string, number> = {};
for (let seed = from; seed < to; seed++) {
  const c = simulateCase({ seed, short: true });
  const input: any = { name: c.name, chunks: [c.bytes], mapping: { text: c.mappingText, name: 'm' }, build: { text: c.buildText, name: 'b' }, version: 'x' };
  const build = parseBuildSheet(c.buildText, 'b');
  const { table, mapping, columnNames } = readMapped(input) as any;
  const recording = normalise(table, mapping, { barometricKpa: build.ambient.barometricKpa, barometricFrom: build.ambient.source, columnNames } as any);
  let drive = segmentDrive(recording, build);
  const add = Number(process.env.FAULT ?? 0);
  if (add) {
    const l = recording.channels.get('lambda')!;
    let state = 0;
    const values = l.values.map((v: number, i: number) => {
      const t = l.time[i];
      const p = drive.pulls.find((q) => t >= q.startS && t <= q.endS + 0.1);
      const on = p && (t - p.startS) / (p.endS - p.startS) > 0.6 ? add : 0;
      state += (on - state) * (1 - Math.exp(-(i ? t - l.time[i - 1] : 0) / 0.12));
      return v + state;
    });
    const channels = new Map(recording.channels); channels.set('lambda', { ...l, values } as any);
    drive = segmentDrive({ ...recording, channels } as any, build);
  }
  for (const a of analysers) {
    const limits = new Map(a.meta.limits.map((l: any) => [l.id, { ...l, from: 'default' }])) as any;
    const r = a.assess(drive, { build, limits, codes: [] });
    const v = worst(r.findings);
    counts[`${a.meta.id} ${v}`] = (counts[`${a.meta.id} ${v}`] ?? 0) + 1;
    const odd = v === 'warn' || v === 'fail';
    console.log(seed, a.meta.id, v, c.logger.rateHz, c.logger.polling, r.summary, r.findings.map((f: any) => `${f.id.split('.')[1]}:${f.measured?.value?.toFixed(3)}`).join(' '));
    if (odd || verbose) for (const f of r.findings) if (verbose || f.verdict !== 'pass') console.log('   ', f.id, f.verdict, f.reasoning.join('\n      '), JSON.stringify(f.causes.map((x: any) => [x.cause.slice(0, 40), x.for, x.against])));
    if (verbose) for (const t of r.tables) console.log(JSON.stringify(t.rows));
  }
}
console.log(counts);
