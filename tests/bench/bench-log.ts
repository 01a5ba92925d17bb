/** A plain log of 30 columns and 3,000 rows (20 Hz): idle, cruise and three pulls, so that every analyser has its usual work. */
const RATE_HZ = 20;
const ROWS = 3000;

type Cell = (row: { t: number; rpm: number; load: number; boost: number; noise: number }) => string;

const COLUMNS: Readonly<Record<string, Cell>> = {
  'Time (s)': ({ t }) => t.toFixed(3),
  'Engine speed (rpm)': ({ rpm }) => rpm.toFixed(1),
  'Vehicle speed (km/h)': ({ rpm }) => (rpm / 62).toFixed(1),
  'Pedal (%)': ({ load }) => (100 * load).toFixed(1),
  'Throttle (%)': ({ load }) => (98 * load + 1).toFixed(1),
  'Manifold pressure (kPa)': ({ boost }) => (99 + boost).toFixed(2),
  'Barometric pressure (kPa)': () => '99.0',
  'Intake air (degC)': ({ t, noise }) => (24 + t / 60 + noise * 0.1).toFixed(1),
  'Charge air (degC)': ({ load, noise }) => (30 + 12 * load + noise * 0.2).toFixed(1),
  'Coolant (degC)': ({ noise }) => (89 + noise * 0.3).toFixed(1),
  'Oil (degC)': ({ noise }) => (95 + noise * 0.3).toFixed(1),
  'Air flow (g/s)': ({ rpm, boost }) => (((rpm * (99 + boost)) / 101) * 0.019).toFixed(2),
  'Load (%)': ({ load }) => (18 + 80 * load).toFixed(1),
  'STFT 1 (%)': ({ load, noise }) => (load > 0.9 ? 0 : 1.2 + noise * 1.1).toFixed(2),
  'LTFT 1 (%)': () => '1.56',
  'Fuel status': ({ load }) => (load > 0.9 ? '4' : '2'),
  'Rail pressure (kPa)': ({ boost, noise }) => (300 + boost + noise).toFixed(1),
  'Pulse width (ms)': ({ rpm, load }) => (2.1 + 11.5 * load * (1 - (rpm - 3000) / 40000)).toFixed(3),
  Lambda: ({ load, noise }) => ((load > 0.9 ? 0.82 : 1) + noise * 0.008).toFixed(3),
  'Lambda target': ({ load }) => (load > 0.9 ? '0.820' : '1.000'),
  'Advance (deg)': ({ load }) => (28 - 14 * load).toFixed(2),
  'Retard 1 (deg)': ({ noise }) => (noise > 0.98 ? 0.5 : 0).toFixed(2),
  'Retard 2 (deg)': () => '0.00',
  'Retard 3 (deg)': () => '0.00',
  'Retard 4 (deg)': () => '0.00',
  'Wastegate (%)': ({ load }) => (45 * load).toFixed(1),
  'Battery (V)': ({ noise }) => (14.1 + noise * 0.05).toFixed(2),
  'Exhaust (degC)': ({ load }) => (420 + 410 * load).toFixed(0),
  'Spare 1': ({ noise }) => (50 + noise * 3.3333).toFixed(4),
  'Spare 2': ({ noise }) => (0.5 + noise * 0.0421).toFixed(5),
};

export const BENCH_MAPPING = {
  pullgate: 'map/1',
  title: 'Bench logger (invented)',
  time: { column: 'Time (s)', unit: 's' },
  channels: {
    engine_speed: 'Engine speed (rpm)',
    vehicle_speed: 'Vehicle speed (km/h)',
    accelerator_position: 'Pedal (%)',
    throttle_position: 'Throttle (%)',
    manifold_pressure: 'Manifold pressure (kPa)',
    barometric_pressure: 'Barometric pressure (kPa)',
    intake_air_temperature: 'Intake air (degC)',
    charge_air_temperature: 'Charge air (degC)',
    coolant_temperature: 'Coolant (degC)',
    oil_temperature: 'Oil (degC)',
    mass_air_flow: 'Air flow (g/s)',
    calculated_load: 'Load (%)',
    short_term_fuel_trim_1: 'STFT 1 (%)',
    long_term_fuel_trim_1: 'LTFT 1 (%)',
    fuel_system_status: 'Fuel status',
    fuel_rail_pressure: 'Rail pressure (kPa)',
    injector_pulse_width: 'Pulse width (ms)',
    lambda: 'Lambda',
    lambda_target: 'Lambda target',
    spark_advance: 'Advance (deg)',
    knock_retard_1: 'Retard 1 (deg)',
    knock_retard_2: 'Retard 2 (deg)',
    knock_retard_3: 'Retard 3 (deg)',
    knock_retard_4: 'Retard 4 (deg)',
    wastegate_duty: 'Wastegate (%)',
    battery_voltage: 'Battery (V)',
    exhaust_gas_temperature: 'Exhaust (degC)',
  },
};

export const BENCH_BUILD = {
  pullgate: 'build/1',
  title: 'Bench car (invented)',
  engine: { displacement: '2.0 L', cylinders: 4, redline: '6900 rpm', idle: '820 rpm' },
  injectors: { flow: '640 cc/min', ratedPressure: '3 bar', fuelPressure: '3 bar', regulator: 'manifold-referenced' },
  boost: { control: 'manual', wastegateCracking: ['0.3 bar', '0.4 bar'], target: '0.8 bar', ceiling: '1.2 bar' },
};

export function benchLog(): string {
  const names = Object.keys(COLUMNS);
  const lines = [names.join(',')];
  for (let i = 0; i < ROWS; i++) {
    const row = state(i / RATE_HZ);
    lines.push(names.map((name) => COLUMNS[name](row)).join(','));
  }
  return `${lines.join('\n')}\n`;
}

/** Idle for 20 s, then cruise at two speeds with a pull of 7 s every 35 s. */
function state(t: number) {
  const noise = ripple(t);
  const inPull = (t - 45) % 35;
  if (t < 20) return { t, rpm: 820 + 12 * noise, load: 0.02, boost: -64 + noise, noise };
  if (t > 45 && inPull < 7) {
    const rise = Math.min(1, inPull / 1.4);
    return { t, rpm: 2600 + 590 * inPull + 4 * noise, load: 1, boost: 82 * rise + noise * 0.6, noise };
  }
  const rpm = (t > 80 ? 2900 : 2400) + 15 * noise;
  return { t, rpm, load: 0.22, boost: -45 + noise, noise };
}

/** Repeatable unevenness between -1 and 1 without a pattern that an analyser could take for one. */
function ripple(t: number): number {
  const x = Math.sin(t * 12.9898) * 43758.5453;
  return 2 * (x - Math.floor(x)) - 1;
}
