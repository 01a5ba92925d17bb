/** What a unit measures. A conversion is only possible within one dimension. */
export type Dimension =
  | 'pressure'
  | 'temperature'
  | 'speed'
  | 'mass flow'
  | 'volume flow'
  | 'displacement'
  | 'torque'
  | 'power'
  | 'mass'
  | 'length'
  | 'area'
  | 'angle'
  | 'time'
  | 'mixture'
  | 'percent'
  | 'voltage'
  | 'engine speed'
  | 'count';

/** value in the base unit = (value + shift) × times / over. The factor is kept as a quotient so that exact ratios stay exact. */
export interface UnitDefinition {
  readonly dimension: Dimension;
  readonly times: number;
  readonly over: number;
  readonly shift: number;
}

const unit = (dimension: Dimension, times = 1, over = 1, shift = 0): UnitDefinition => ({
  dimension,
  times,
  over,
  shift,
});

// Exact by definition: inch, pound, standard gravity, atmosphere, conventional density of mercury, mile, US gallon (NIST SP 811, appendix B).
const INCH_M = 0.0254;
const POUND_G = 453.59237;
const GRAVITY = 9.80665;
const ATMOSPHERE_PA = 101325;
const MERCURY_KG_M3 = 13595.1;
const MILE_M = 1609.344;
const POUND_FORCE_N = (POUND_G / 1000) * GRAVITY;
const FOOT_M = 0.3048;

/** Base units: Pa, K, m/h, g/h, mm³/h, mm³, N m, W, g, mm, mm², deg, µs, lambda, %, mV, 1/min, count. */
export const UNITS = {
  Pa: unit('pressure'),
  hPa: unit('pressure', 100),
  kPa: unit('pressure', 1000),
  MPa: unit('pressure', 1e6),
  mbar: unit('pressure', 100),
  bar: unit('pressure', 1e5),
  atm: unit('pressure', ATMOSPHERE_PA),
  psi: unit('pressure', POUND_FORCE_N, INCH_M * INCH_M),
  inHg: unit('pressure', MERCURY_KG_M3 * GRAVITY * INCH_M),
  mmHg: unit('pressure', MERCURY_KG_M3 * GRAVITY, 1000),
  torr: unit('pressure', ATMOSPHERE_PA, 760),
  'kg/cm2': unit('pressure', 98066.5),
  K: unit('temperature'),
  degC: unit('temperature', 1, 1, 273.15),
  degF: unit('temperature', 5, 9, 459.67),
  'km/h': unit('speed', 1000),
  mph: unit('speed', MILE_M),
  'm/s': unit('speed', 3600),
  kn: unit('speed', 1852),
  'g/s': unit('mass flow', 3600),
  'g/min': unit('mass flow', 60),
  'kg/h': unit('mass flow', 1000),
  'kg/min': unit('mass flow', 60000),
  'kg/s': unit('mass flow', 3.6e6),
  'lb/h': unit('mass flow', POUND_G),
  'lb/min': unit('mass flow', POUND_G * 60),
  'lb/s': unit('mass flow', POUND_G * 3600),
  'cc/min': unit('volume flow', 60000),
  'L/h': unit('volume flow', 1e6),
  'L/min': unit('volume flow', 6e7),
  'gal/h': unit('volume flow', 231 * 16387.064),
  cc: unit('displacement', 1000),
  L: unit('displacement', 1e6),
  in3: unit('displacement', 16387.064),
  'N m': unit('torque'),
  'lbf ft': unit('torque', POUND_FORCE_N * FOOT_M),
  'kgf m': unit('torque', GRAVITY),
  W: unit('power'),
  kW: unit('power', 1000),
  hp: unit('power', 550 * FOOT_M * POUND_FORCE_N),
  PS: unit('power', 75 * GRAVITY),
  g: unit('mass'),
  kg: unit('mass', 1000),
  lb: unit('mass', POUND_G),
  mm: unit('length'),
  cm: unit('length', 10),
  m: unit('length', 1000),
  km: unit('length', 1e6),
  in: unit('length', 25.4),
  ft: unit('length', 304.8),
  mm2: unit('area'),
  cm2: unit('area', 100),
  m2: unit('area', 1e6),
  ft2: unit('area', 304.8 * 304.8),
  deg: unit('angle'),
  'deg after TDC': unit('angle', -1),
  us: unit('time'),
  ms: unit('time', 1000),
  s: unit('time', 1e6),
  min: unit('time', 6e7),
  h: unit('time', 3.6e9),
  lambda: unit('mixture'),
  '%': unit('percent'),
  ratio: unit('percent', 100),
  mV: unit('voltage'),
  V: unit('voltage', 1000),
  rpm: unit('engine speed'),
  krpm: unit('engine speed', 1000),
  Hz: unit('engine speed', 60),
  'rad/s': unit('engine speed', 30, Math.PI),
  count: unit('count'),
} as const satisfies Record<string, UnitDefinition>;

export type Unit = keyof typeof UNITS;

/** The unit in which a quantity of each dimension travels through the program. */
export const CANONICAL_UNIT = {
  pressure: 'kPa',
  temperature: 'degC',
  speed: 'km/h',
  'mass flow': 'g/s',
  'volume flow': 'cc/min',
  displacement: 'L',
  torque: 'N m',
  power: 'kW',
  mass: 'kg',
  length: 'm',
  area: 'm2',
  angle: 'deg',
  time: 'ms',
  mixture: 'lambda',
  percent: '%',
  voltage: 'V',
  'engine speed': 'rpm',
  count: 'count',
} as const satisfies Record<Dimension, Unit>;

export const dimensionOf = (name: Unit): Dimension => UNITS[name].dimension;
