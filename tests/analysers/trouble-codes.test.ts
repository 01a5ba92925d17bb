import { describe, expect, it } from 'vitest';
import { troubleCodes } from '../../src/analysers/trouble-codes.ts';
import { worst } from '../../src/analysers/wording.ts';
import type { LimitTable } from '../../src/build-sheet/limit.ts';
import { segmentDrive } from '../../src/drive/segment-drive.ts';
import { describeTroubleCode, parseTroubleCode, parseTroubleCodes } from '../../src/engine/trouble-code.ts';
import { UserError } from '../../src/kernel/user-error.ts';
import { everySample, recordingFrom } from '../support/build-recording.ts';
import { aBuild } from '../support/build-sheet.ts';

const limits: LimitTable = new Map(troubleCodes.meta.limits.map((l) => [l.id, { ...l, from: 'default' as const }]));
const time = everySample(2, 30);
const engine = time.map((t) => (t < 3 ? 0 : 900));

function assess(
  options: {
    codes?: string[];
    lamp?: (t: number) => number;
    count?: (t: number) => number;
    sheet?: Parameters<typeof aBuild>[0];
  } = {},
) {
  const build = aBuild(options.sheet);
  const channels = {
    engine_speed: { time, values: engine },
    ...(options.lamp ? { malfunction_lamp: { time, values: time.map(options.lamp) } } : {}),
    ...(options.count ? { trouble_code_count: { time, values: time.map(options.count) } } : {}),
  };
  const drive = segmentDrive(recordingFrom({ channels }), build);
  const result = troubleCodes.assess(drive, { build, limits, codes: options.codes ?? [] });
  return { ...result, verdict: worst(result.findings) };
}

describe('a trouble code', () => {
  // SAE J2012 / ISO 15031-6 layout: letter P, C, B or U, digit 0 to 3, three hexadecimal digits.
  it.each(['P0171', 'P0234', 'P1171', 'P241F', 'C0300', 'B0100', 'U0100'])('%s is read', (code) =>
    expect(parseTroubleCode(code)).toBe(code),
  );
  it('is read in lower case and with blanks around', () => expect(parseTroubleCode(' p241f ')).toBe('P241F'));
  it.each(['P0', 'P4171', 'X0171', 'P017G', '0171', 'P01711', ''])('%j is refused', (text) => {
    expect(() => parseTroubleCode(text, '--dtc')).toThrow(UserError);
    expect(() => parseTroubleCode(text, '--dtc')).toThrow(/--dtc.*P0171/s);
  });
  it('list is split at commas and blanks, repeats gone', () =>
    expect(parseTroubleCodes('P0171, p0234 P0171;U0100')).toEqual(['P0171', 'P0234', 'U0100']));
  it('list "none" says that the memory was read and was empty', () =>
    expect(parseTroubleCodes('NONE')).toEqual(['none']));
  it('list of nothing, or of none beside a code, is refused', () => {
    expect(() => parseTroubleCodes(' , ')).toThrow(UserError);
    expect(() => parseTroubleCodes('none,P0171')).toThrow(UserError);
  });
  it.each([
    // J2012: P0 and P2 standard, P1 maker; third digit 1 and 2 fuel and air metering, 3 ignition or misfire. P3, C, B and U ranges from memory.
    ['P0171', 'P0171: powertrain, standard code, fuel and air metering (system too lean, bank 1)'],
    ['P2201', 'P2201: powertrain, standard code, fuel and air metering, injector circuit'],
    ['P1171', "P1171: powertrain, maker's own code"],
    ['P33FF', "P33FF: powertrain, maker's own code"],
    ['P3400', 'P3400: powertrain, standard code, auxiliary emission controls'],
    ['P0302', 'P0302: powertrain, standard code, ignition or misfire (misfire, cylinder 2)'],
    ['C0300', 'C0300: chassis, standard code'],
    ['B1100', "B1100: body, maker's own code"],
    ['U3100', 'U3100: network, reserved range'],
  ])('%s is described', (code, words) => expect(describeTroubleCode(code)).toBe(words));
});

describe('codes read by hand', () => {
  it('that nothing explains fail', () => {
    const { verdict, findings } = assess({ codes: ['P0171'] });
    expect(verdict).toBe('fail');
    expect(findings[0]).toMatchObject({ id: 'trouble-codes.unexplained', measured: { value: 1 }, limit: { fail: 1 } });
    expect(findings[0].reasoning.join(' ')).toContain('too lean, bank 1');
    expect(findings[0].where).toHaveLength(1);
    expect(findings[0].next.length).toBeGreaterThan(0);
  });
  it('from the build sheet count as well, each once', () => {
    const { findings } = assess({ codes: ['P0171', 'p0300'], sheet: { codes: ['P0171', 'P0299'] } });
    expect(findings[0].measured?.value).toBe(3);
  });
  it('expected by the build sheet pass, and are named', () => {
    const { verdict, findings } = assess({ codes: ['P0102'], sheet: { expect: { ignoreCodes: ['p0102'] } } });
    expect(verdict).toBe('pass');
    expect(findings[0].reasoning.join(' ')).toContain('P0102');
    expect(findings[0].detectable).toBeTruthy();
  });
  it('of a meter unplugged on purpose are explained, other codes are not', () => {
    const sheet = { expect: { disconnected: ['mass_air_flow'] } };
    expect(assess({ codes: ['P0102'], sheet }).verdict).toBe('pass');
    expect(assess({ codes: ['P0112'], sheet }).verdict).toBe('fail');
  });
  it('point at the build sheet where a calibration without meter shows a meter code', () => {
    const { verdict, findings } = assess({ codes: ['P0102'], sheet: { airflow: 'speed-density' } });
    expect(verdict).toBe('fail');
    expect(findings[0].reasoning.join(' ')).toContain('expect.disconnected');
  });
  it('none stored is a pass that says what was read', () => {
    const { verdict, findings, needs } = assess({ codes: ['none'] });
    expect(verdict).toBe('pass');
    expect(findings[0].reasoning[0]).toContain('held no code');
    expect(needs).toEqual([]);
  });
  it('none read at all is not assessed, and says how to read them', () => {
    const { verdict, needs, findings } = assess();
    expect(verdict).toBe('not-assessed');
    expect(needs.join(' ')).toContain('--dtc');
    expect(findings[0].next[0]).toContain('--dtc none');
  });
});

describe('the lamp', () => {
  it('on while the engine runs fails', () => {
    const { verdict, findings } = assess({ lamp: (t) => (t >= 10 ? 1 : 0) });
    expect(verdict).toBe('fail');
    expect(findings[0]).toMatchObject({ id: 'trouble-codes.lamp', measured: { value: 1 }, where: [{ start: 10 }] });
  });
  it('on only with the engine off is a lamp test', () =>
    expect(assess({ lamp: (t) => (t < 2.5 ? 1 : 0) }).verdict).toBe('pass'));
  it('off passes, and says what would have shown', () => {
    const { verdict, findings } = assess({ lamp: () => 0 });
    expect(verdict).toBe('pass');
    expect(findings[0].detectable).toBeTruthy();
  });
  it('on for a single update out of many warns only', () =>
    expect(assess({ lamp: (t) => (t === 12 ? 1 : 0) }).verdict).toBe('warn'));
  it('on with an expected code read is explained, with another code it is not', () => {
    const sheet = { expect: { ignoreCodes: ['P0102'] } };
    expect(assess({ lamp: () => 1, codes: ['P0102'], sheet }).verdict).toBe('pass');
    expect(assess({ lamp: () => 1, codes: ['none'], sheet }).verdict).toBe('fail');
    expect(assess({ lamp: () => 1, sheet }).verdict).toBe('fail');
  });
});

describe('the stored count', () => {
  it('above the codes read fails', () => {
    const { verdict, findings } = assess({
      count: () => 2,
      codes: ['P0102'],
      sheet: { expect: { ignoreCodes: ['P0102'] } },
    });
    expect(verdict).toBe('fail');
    expect(findings[1]).toMatchObject({ id: 'trouble-codes.count', measured: { value: 1 } });
  });
  it('equal to the codes read passes', () =>
    expect(assess({ count: () => 1, codes: ['P0102'], sheet: { expect: { ignoreCodes: ['P0102'] } } }).verdict).toBe(
      'pass',
    ));
  it('unread: beyond the expected number fails, within it warns', () => {
    const sheet = { expect: { ignoreCodes: ['P0102'] } };
    expect(assess({ count: () => 2, sheet }).verdict).toBe('fail');
    expect(assess({ count: () => 1, sheet }).verdict).toBe('warn');
    expect(assess({ count: () => 0, sheet }).verdict).toBe('pass');
  });
  it('that rises during the log says when', () => {
    const { findings } = assess({ count: (t) => (t >= 20 ? 1 : 0) });
    expect(findings[0].where[0].start).toBe(20);
  });
});

describe('a log that starts with the engine running', () => {
  const lampOf = (lamp: (t: number) => number, rateHz = 5, codes: string[] = []) => {
    const times = everySample(rateHz, 60);
    const channels = {
      engine_speed: { time: times, values: times.map(() => 850) },
      malfunction_lamp: { time: times, values: times.map(lamp) },
    };
    const build = aBuild();
    const drive = segmentDrive(recordingFrom({ channels }), build);
    const { findings } = troubleCodes.assess(drive, { build, limits, codes });
    return findings.find(({ id }) => id === 'trouble-codes.lamp');
  };
  it.each([1, 5, 20])('a lamp that tests itself and goes out is told, at %i Hz', (rateHz) => {
    for (const codes of [[], ['none']]) {
      const lamp = lampOf((t) => (t < 3 ? 1 : 0), rateHz, codes);
      expect(lamp?.verdict).toBe('pass');
      expect(lamp?.title).toContain('its own test');
      expect(lamp?.where[0].end).toBeLessThan(3.1);
    }
  });
  it.each([
    ['that returns', (t: number) => (t < 3 || (t > 40 && t < 42) ? 1 : 0)],
    ['that stays on for longer', (t: number) => (t < 8 ? 1 : 0)],
    ['that comes on later', (t: number) => (t > 1 && t < 4 ? 1 : 0)],
    ['that is on throughout', () => 1],
  ] as const)('a lamp %s fails', (_, lamp) => expect(lampOf(lamp)?.verdict).toBe('fail'));
  it('two updates do not tell a self-test', () =>
    expect(lampOf((t) => (t < 3 ? 1 : 0), 0.05)?.verdict).not.toBe('pass'));
});
