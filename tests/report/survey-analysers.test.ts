import { describe, expect, it } from 'vitest';
import { ANALYSERS } from '../../src/analysers/registry.ts';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { servedAnalysers, wantedChannels } from '../../src/report/survey-analysers.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';

/** A pull to full pedal at a rate, with more channels beside. */
function drive(rateHz: number, more: readonly ChannelId[] = []) {
  const time = everySample(rateHz, 60);
  const channels = {
    engine_speed: { time, values: time.map((t) => 2000 + 70 * t) },
    accelerator_position: { time, values: time.map((t) => (t > 20 ? 100 : 15)) },
    manifold_pressure: { time, values: time.map((t) => (t > 20 ? 180 : 45)) },
    ...Object.fromEntries(more.map((id) => [id, { time, values: time.map((t) => Math.sin(t)) }])),
  };
  return recordingFrom({ channels });
}

const served = (recording: ReturnType<typeof drive>) =>
  new Map(servedAnalysers(ANALYSERS, new Set(recording.channels.keys()), recording).map((one) => [one.id, one]));

describe('servedAnalysers', () => {
  it('says what is missing', () => {
    const answers = served(drive(20));
    expect(answers.get('fuel-trim')).toMatchObject({ served: 'no' });
    expect(answers.get('timing-pull')?.reasons.join()).toContain('knock_retard_1 … knock_retard_12');
    expect(answers.get('boost-creep')).toMatchObject({ served: 'yes', reasons: [] });
  });

  it('says what is too slow', () => {
    const answers = served(drive(2));
    expect(answers.get('boost-spike')).toMatchObject({ served: 'limited' });
    expect(answers.get('boost-spike')?.reasons[0]).toContain('manifold_pressure is updated 2.0 Hz');
  });

  it('cannot serve anything from a log that cannot be read', () => {
    const answers = servedAnalysers(ANALYSERS, new Set(['engine_speed']), undefined);
    expect(answers.every((one) => one.served === 'no')).toBe(true);
  });
});

describe('wantedChannels', () => {
  it('names first what opens a question, then what sharpens answers', () => {
    const wanted = wantedChannels(ANALYSERS, new Set(drive(20).channels.keys()));
    const first = wanted[0];
    expect(first.opens.length).toBeGreaterThan(0);
    expect(wanted.map(({ channel }) => channel)).toContain('short_term_fuel_trim_1');
    expect(wanted.map(({ channel }) => channel)).not.toContain('engine_speed');
    expect(wanted.length).toBeLessThanOrEqual(8);
  });
});
