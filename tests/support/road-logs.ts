/** Logs with the traits of two kinds of drive that are published for research: built here from invented numbers, no cell is copied. */

/** Repeatable unevenness between -1 and 1. */
function ripple(i: number, salt: number): number {
  const x = Math.sin(i * 12.9898 + salt * 78.233) * 43758.5453;
  return 2 * (x - Math.floor(x)) - 1;
}

const two = (value: number) => String(value).padStart(2, '0');

function clock(seconds: number): string {
  const ms = Math.round(seconds * 1000);
  const part = (each: number, of: number) => two(Math.floor(ms / each) % of);
  return `${part(3_600_000, 24)}:${part(60_000, 60)}:${part(1000, 60)}.${String(ms % 1000).padStart(3, '0')}`;
}

/** A drive in town and country: engine speed, pedal and road speed at an instant, s. */
function roadAt(t: number) {
  const stop = t % 95 < 22;
  const hill = 0.5 + 0.5 * Math.sin(t / 17);
  const pedal = stop ? 0 : 12 + 38 * hill + 6 * Math.sin(t / 3.1);
  const speed = stop ? 0 : 30 + 60 * (0.5 + 0.5 * Math.sin(t / 41)) + 4 * Math.sin(t / 5);
  const rpm = stop ? 830 + 8 * Math.sin(t) : 1150 + 13 * speed + 180 * Math.sin(t / 4.3);
  return { stop, pedal, speed, rpm };
}

const TURN_COLUMNS: readonly (readonly [string, (t: number, i: number) => string])[] = [
  ['Engine Coolant Temperature [°C]', (t) => Math.min(88, 40 + t / 7).toFixed(0)],
  [
    'Intake Manifold Absolute Pressure [kPa]',
    (t, i) => (roadAt(t).stop ? 100 + ripple(i, 1) : 101 + roadAt(t).pedal * 1.1 + 2 * ripple(i, 1)).toFixed(0),
  ],
  ['Engine RPM [RPM]', (t, i) => (roadAt(t).rpm + 6 * ripple(i, 2)).toFixed(0)],
  ['Vehicle Speed Sensor [km/h]', (t) => Math.max(0, roadAt(t).speed).toFixed(0)],
  ['Intake Air Temperature [°C]', (t) => (24 + 4 * Math.sin(t / 300)).toFixed(0)],
  ['Air Flow Rate from Mass Flow Sensor [g/s]', (t, i) => (8 + roadAt(t).pedal * 0.9 + ripple(i, 3)).toFixed(2)],
  ['Absolute Throttle Position [%]', (_t, i) => (83 + 2 * ripple(i, 4)).toFixed(1)],
  ['Ambient Air Temperature [°C]', () => '19'],
  ['Accelerator Pedal Position D [%]', (t) => (14 + 0.7 * roadAt(t).pedal).toFixed(1)],
  ['Accelerator Pedal Position E [%]', (t) => (14.2 + 0.7 * roadAt(t).pedal).toFixed(1)],
];

/** Trait (a): a turbocharged diesel on the road; clock time, about 13 rows a second, each row refreshes one of ten columns. */
export function turnByTurnLog(rows = 5000): string {
  const last: string[] = TURN_COLUMNS.map(() => '');
  const lines = [['Time', ...TURN_COLUMNS.map(([name]) => name)].join(',')];
  let t = 0;
  for (let i = 0; i < rows; i++) {
    const turn = i % TURN_COLUMNS.length;
    last[turn] = TURN_COLUMNS[turn][1](t, i);
    lines.push([clock(52_200 + t), ...last].join(','));
    t += 0.076 + 0.012 * ripple(i, 9);
  }
  return `${lines.join('\n')}\n`;
}

const SLOW_COLUMNS: readonly (readonly [string, (t: number, i: number) => string])[] = [
  ['ENGINE_SPEED', (t, i) => (roadAt(t).rpm + 5 * ripple(i, 1)).toFixed(0)],
  ['VEHICLE_SPEED', (t) => Math.max(0, roadAt(t).speed).toFixed(0)],
  ['THROTTLE_POSITION', (t) => (13 + 0.6 * roadAt(t).pedal).toFixed(2)],
  ['CALCULATED_LOAD', (t) => (20 + roadAt(t).pedal).toFixed(2)],
  ['ENGINE_COOLANT_TEMPERATURE', (t) => Math.min(92, 86 + t / 60).toFixed(0)],
  ['SHORT_TERM_FUEL_TRIM_BANK_1', (_t, i) => (1.2 + 1.6 * ripple(i, 2)).toFixed(2)],
  ['LONG_TERM_FUEL_TRIM_BANK_1', () => '1.56'],
  ['INTAKE_MANIFOLD_PRESSURE', (t, i) => (roadAt(t).stop ? 33 + ripple(i, 3) : 38 + roadAt(t).pedal * 0.9).toFixed(0)],
  ['BAROMETRIC_PRESSURE', () => '97'],
  ['INTAKE_AIR_TEMPERATURE', (t) => (31 + 3 * Math.sin(t / 200)).toFixed(0)],
  ['TIMING_ADVANCE', (t) => (14 + 12 * Math.sin(t / 9)).toFixed(1)],
  ['COMMANDED_EQUIVALENCE_RATIO', () => '0.999'],
  ['PEDAL_D', (t) => (16 + 0.5 * roadAt(t).pedal).toFixed(2)],
  ['PEDAL_E', (t) => (8 + 0.25 * roadAt(t).pedal).toFixed(2)],
  ['CONTROL_MODULE_VOLTAGE', (_t, i) => (14.1 + 0.1 * ripple(i, 4)).toFixed(2)],
  ['AMBIENT_AIR_TEMPERATURE', () => '22'],
  ['FUEL_LEVEL', (t) => (62 - t / 900).toFixed(1)],
  ['CATALYST_TEMPERATURE_BANK_1', (t) => (480 + 60 * Math.sin(t / 60)).toFixed(1)],
  ['DISTANCE_WITH_LAMP_ON', () => '0'],
  ['WARM_UPS_SINCE_CLEARED', () => '14'],
  ['FUEL_TANK_PRESSURE', () => '0'],
  ['COMMANDED_EVAPORATIVE_PURGE', () => '0'],
  ['RELATIVE_THROTTLE_POSITION', (t) => (4 + 0.5 * roadAt(t).pedal).toFixed(2)],
  ['ABSOLUTE_THROTTLE_POSITION_B', (t) => (48 + 0.3 * roadAt(t).pedal).toFixed(2)],
  ['COMMANDED_THROTTLE_ACTUATOR', (t) => (5 + 0.6 * roadAt(t).pedal).toFixed(2)],
  ['FUEL_TYPE', () => '1'],
];

/**
 * Trait (b): a naturally aspirated car at one row a second; 27 columns, comma and blank between cells, a trailing comma, empty units in the
 * header. The first column is engine run time, which repeats now and then, or stays at zero.
 */
export function onceASecondLog(rows = 900, runTime: 'counts' | 'stays at zero' = 'counts'): string {
  const header = ['ENGINE_RUN_TIME', ...SLOW_COLUMNS.map(([name]) => name)].map((name) => `${name} ()`);
  const lines = [`${header.join(', ')},`];
  for (let i = 0; i < rows; i++) {
    const shown = runTime === 'counts' ? Math.floor(i + 0.4 * ripple(i, 8)) : 0;
    lines.push(`${[Math.max(0, shown), ...SLOW_COLUMNS.map(([, cell]) => cell(i, i))].join(', ')},`);
  }
  return `${lines.join('\n')}\n`;
}

/** Build sheets of the two, invented. */
export const DIESEL_BUILD = {
  pullgate: 'build/1',
  title: 'Road diesel (invented)',
  engine: { displacement: '2.0 L', cylinders: 4, redline: '4800 rpm', idle: '830 rpm' },
};
export const ROAD_BUILD = {
  pullgate: 'build/1',
  title: 'Road car (invented)',
  engine: { displacement: '1.4 L', cylinders: 4, redline: '6300 rpm', idle: '830 rpm' },
};
