const UNITS = new Set(
  `s sec secs second seconds ms msec us usec µs μs min mins h hr hrs hh:mm:ss
  rpm 1/min min-1 u/min rev/min hz khz
  kpa pa mpa hpa bar mbar psi psia psig inhg mmhg atm kpa_abs kpaa kpag
  °c c degc deg_c celsius °f f degf deg_f fahrenheit k kelvin
  % pct percent deg ° degrees degree °ca deg_ca dbtdc °btdc btdc
  v volt volts mv a ma ohm w kw hp ps
  g/s kg/h kg/hr kg/min lb/min lbs/min g/rev g/cyl mg mg/str mg/stroke mg/cyl mg/stk g kg lb lbs
  km/h kph kmh mph m/s km mi mile miles m ft mm mm3 cm3 cc cc/min ml ml/min l l/h lph gph gal
  nm lbft lb-ft ft-lb ftlb n
  lambda λ afr ratio :1 phi count counts cnt steps step bool boolean state enum text string flag on/off 0/1 raw bit hex none unitless - -- n/a #`
    .split(/\s+/)
    .filter(Boolean),
);

const BRACKETED = /^(\(.*\)|\[.*\]|\{.*\})$/;
const SIGNS = /[%°/²³µμ]/;

/** Whether a cell reads like a unit rather than a column's name. */
export function isUnitLike(text: string): boolean {
  if (BRACKETED.test(text)) return true;
  if (UNITS.has(text.toLowerCase().replaceAll(' ', ''))) return true;
  return text.length <= 10 && SIGNS.test(text);
}
