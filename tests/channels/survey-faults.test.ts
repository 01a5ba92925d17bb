import { describe, expect, it } from 'vitest';
import type { ChannelId } from '../../src/channels/catalogue.ts';
import { channelFaults } from '../../src/channels/survey-faults.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';

function faultsOf(id: ChannelId, value: (t: number) => number) {
  const time = everySample(10, 60);
  const recording = recordingFrom({ channels: { [id]: { time, values: time.map(value) } } });
  const channel = recording.channels.get(id);
  if (!channel) throw new Error('no channel');
  return channelFaults(channel);
}

describe('channelFaults', () => {
  it('manifold pressure that ends at 255 kPa is cut off (one byte, SAE J1979)', () => {
    const [fault] = faultsOf('manifold_pressure', (t) => Math.min(255, 100 + 200 * Math.abs(Math.sin(t / 6))));
    expect(fault.kind).toBe('saturated');
    expect(fault.text).toContain('255.0 kPa');
    expect(faultsOf('manifold_pressure', (t) => 100 + 150 * Math.abs(Math.sin(t / 6)))).toEqual([]);
  });

  it('a course that is cut off in full flight, again and again, is at the end of a scale', () => {
    const course = (t: number) => 300 + 200 * Math.sin(t / 2) + 0.7 * Math.sin(40 * t);
    expect(faultsOf('mass_air_flow', (t) => Math.min(380, course(t)))[0]?.kind).toBe('saturated');
    expect(faultsOf('mass_air_flow', course)).toEqual([]);
  });

  it('a pedal at its stop is no fault', () => {
    expect(faultsOf('accelerator_position', (t) => Math.min(100, 160 * Math.abs(Math.sin(t / 4))))).toEqual([]);
  });

  it('counts what no such sensor can read, and names the farthest', () => {
    const [fault] = faultsOf('coolant_temperature', (t) => (t > 30 && t < 30.55 ? 180 : 88));
    expect(fault.kind).toBe('implausible');
    expect(fault.text).toMatch(/^5 of 601 samples .* 180 °C$/);
  });

  it('an open circuit reads the bottom of the scale', () => {
    expect(faultsOf('intake_air_temperature', () => -40)[0]).toMatchObject({ kind: 'dead' });
  });
});
