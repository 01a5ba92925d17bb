import { UNITS, type Unit } from './units.ts';

export type PressureReference = 'gauge' | 'absolute';

/** A unit as written in a header, a mapping or a build sheet. AFR and phi need more than a factor to become lambda. */
export interface RecognisedUnit {
  readonly unit: Unit | 'AFR' | 'phi';
  readonly reference?: PressureReference;
}

/** Spellings by unit, folded by `fold`. English, German, French, Spanish, Italian, Portuguese, Dutch and Polish where they differ. */
const SPELLINGS: Record<Unit | 'AFR' | 'phi', string> = {
  Pa: 'pa pascal',
  hPa: 'hpa',
  kPa: 'kpa kilopascal',
  MPa: 'mpa',
  mbar: 'mbar millibar mb',
  bar: 'bar bars',
  atm: 'atm',
  psi: 'psi lb/in2 lbs/in2 lbf/in2',
  inHg: 'inhg inchhg "hg inchesofmercury',
  mmHg: 'mmhg',
  torr: 'torr',
  'kg/cm2': 'kg/cm2 kgf/cm2 kgcm2 kp/cm2',
  K: 'k kelvin degk °k',
  degC: 'degc °c c celsius degcelsius °celsius degreesc degreescelsius grdc gradc gradcelsius centigrade degreec',
  degF: 'degf °f f fahrenheit degfahrenheit °fahrenheit degreesf degreesfahrenheit degreef',
  'km/h': 'km/h kph kmh kmph km/hr',
  mph: 'mph mi/h miles/h mi/hr',
  'm/s': 'm/s',
  kn: 'kn knot knots kt kts',
  'g/s': 'g/s gps g/sec gm/s gm/sec gramspersecond grams/s grams/sec gs-1',
  'g/min': 'g/min',
  'kg/h': 'kg/h kg/hr kgph kg/hour',
  'kg/min': 'kg/min',
  'kg/s': 'kg/s',
  'lb/h': 'lb/h lb/hr lbs/h lbs/hr lbph pph lbhr lbshr',
  'lb/min': 'lb/min lbs/min ppm lbmin lb/m lbs/m',
  'lb/s': 'lb/s lbs/s',
  'cc/min': 'cc/min ccm/min ccmin cm3/min ml/min cc/m ccm ccpm',
  'L/h': 'l/h l/hr lph litre/h liter/h',
  'L/min': 'l/min lpm',
  'gal/h': 'gal/h gal/hr gph',
  cc: 'cc cm3 ml',
  L: 'l litre liter litres liters ltr',
  in3: 'in3 cuin ci cid',
  'N m': 'nm newtonmetre newtonmeter',
  'lbf ft': 'lbfft lbft ftlb ftlbf ftlbs lbsft',
  'kgf m': 'kgfm kgm mkg kpm mkp',
  W: 'w watt',
  kW: 'kw',
  hp: 'hp bhp whp',
  PS: 'ps cv ch pk',
  g: 'g gram grams gramme',
  kg: 'kg kgs',
  lb: 'lb lbs lbm',
  mm: 'mm',
  cm: 'cm',
  m: 'm metre meter metres meters',
  km: 'km',
  in: 'in inch inches "',
  ft: "ft foot feet '",
  mm2: 'mm2',
  cm2: 'cm2',
  m2: 'm2 sqm qm',
  ft2: 'ft2 sqft',
  deg: 'deg degs ° degree degrees grad grado gradi grados degre degca °ca °kw degkw °crk °crank degcrank crankdeg degbtdc °btdc btdc °vot degvot degreesbtdc cad °cad degadvance degadv',
  'deg after TDC': 'degatdc °atdc atdc',
  us: 'us usec usecs microsecond microseconds',
  ms: 'ms msec msecs millis millisecond milliseconds',
  s: 's sec secs second seconds sek sekunde sekunden seconde secondes segundo segundos secondi',
  min: 'min mins minute minutes minuten',
  h: 'h hr hrs hour hours',
  lambda: 'lambda λ la',
  AFR: 'afr afr:1 :1 a/f air/fuel airfuelratio l/k',
  phi: 'phi φ ϕ fuelairequivalence',
  '%': '% pct percent prozent %dc percentage pourcent porcentaje percentuale per100',
  ratio: 'ratio factor fraction faktor x',
  mV: 'mv millivolt',
  V: 'v volt volts vdc',
  rpm: 'rpm 1/min min-1 /min r/min u/min rev/min revs/min tr/min giri/min rpm(1/min) obr/min omw/min revolutions/min upm',
  krpm: 'krpm rpmx1000 rpm*1000 1000rpm x1000rpm',
  Hz: 'hz rps rev/s',
  'rad/s': 'rad/s',
  count: 'count counts # n no events number',
};

const BY_SPELLING = new Map<string, Unit | 'AFR' | 'phi'>();
for (const name of Object.keys(SPELLINGS) as (Unit | 'AFR' | 'phi')[]) {
  for (const spelling of SPELLINGS[name].split(' ')) BY_SPELLING.set(spelling, name);
}

const REFERENCES: readonly (readonly [string, PressureReference])[] = [
  ['absolute', 'absolute'],
  ['absolut', 'absolute'],
  ['absolu', 'absolute'],
  ['abs', 'absolute'],
  ['gauge', 'gauge'],
  ['gage', 'gauge'],
  ['relative', 'gauge'],
  ['relativ', 'gauge'],
  ['rel', 'gauge'],
  ['(a)', 'absolute'],
  ['(g)', 'gauge'],
  ['a', 'absolute'],
  ['g', 'gauge'],
];

/** Lower case without blanks and joining marks; micro, lambda and degree signs survive double encoding, other stray bytes do not. */
function fold(text: string): string {
  return text
    .replaceAll('Âµ', 'µ')
    .replaceAll('Î¼', 'µ')
    .replaceAll('Î»', 'λ')
    .replaceAll('Â', '')
    .replaceAll('º', '°')
    .normalize('NFKC')
    .replaceAll('−', '-')
    .toLowerCase()
    .replaceAll('μ', 'u')
    .replaceAll('⋅', '')
    .replace(/[\s._*·^]/g, '');
}

function lookUp(folded: string): Unit | 'AFR' | 'phi' | undefined {
  const joined = folded.replace(/(?<=[a-z°])-(?=[a-z])/g, '');
  return BY_SPELLING.get(folded) ?? BY_SPELLING.get(joined);
}

function withReference(folded: string): RecognisedUnit | undefined {
  for (const [ending, reference] of REFERENCES) {
    if (!folded.endsWith(ending)) continue;
    const unit = lookUp(folded.slice(0, -ending.length).replace(/[-,]$/, ''));
    if (unit && unit !== 'AFR' && unit !== 'phi' && UNITS[unit].dimension === 'pressure') return { unit, reference };
  }
  return undefined;
}

/** The degree sign may have come through as anything: a lone C, F or K after unreadable bytes is a temperature. */
function temperatureByCore(text: string): RecognisedUnit | undefined {
  const core = text.replace(/[^\x20-\x7e]/g, '').trim();
  if (core === text.trim() || !/^[CFK]$/.test(core)) return undefined;
  return { unit: core === 'C' ? 'degC' : core === 'F' ? 'degF' : 'K' };
}

/**
 * The unit a text stands for, in any common spelling: `psi`, `psig`, `kPa abs`, `°C`, `Â°C`, `1/min`, `usec`, `deg BTDC`, `AFR`.
 * `psig` and `psia` carry their reference. Undefined where the text is no unit known here.
 */
export function recogniseUnit(text: string): RecognisedUnit | undefined {
  const folded = fold(text);
  const unit = lookUp(folded);
  if (unit) return { unit };
  return withReference(folded) ?? temperatureByCore(text);
}
