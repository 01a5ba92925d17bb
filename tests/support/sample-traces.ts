import type { PullTraces, TracePoint } from '../../src/report/pull-traces.ts';

const ramp = (from: number, to: number): TracePoint[] =>
  Array.from({ length: 68 }, (_, i) => [41.2 + i / 10, 2510 + (i * 4210) / 67, from + ((to - from) * i) / 67] as const);

/** Invented traces of the first pull of the sample report. */
export function sampleTraces(label = 'boost'): PullTraces[] {
  const line = (name: string, from: number, to: number) => ({
    label: name,
    role: 'measured' as const,
    runs: [ramp(from, to)],
  });
  return [
    {
      pull: 1,
      startS: 41.2,
      endS: 47.9,
      tracks: [
        {
          id: 'boost',
          title: label,
          unit: 'kPa gauge',
          lines: [line(label, 0, 84)],
          levels: [{ label: 'ceiling', role: 'ceiling', value: 110 }],
        },
        { id: 'duty', title: 'Injector duty', unit: '%', lines: [line('duty', 20, 94)], levels: [] },
      ],
    },
  ];
}
