const UNITS = new Set(
  `s sec secs second seconds ms msec us usec µs μs min mins h hr hrs hh:mm:ss
  rpm 1/min min-1 u/min rev/min hz khz
  kpa pa mpa hpa bar mbar psi psia psig inhg mmhg atm kpa_abs kpaa kpag
  °c c degc deg_c celsius °f f degf deg_f fahrenheit k kelvin
  % pct percent deg ° degrees degree °ca deg_ca dbtdc °btdc btdc
  v volt volts mv a ma ohm w kw hp ps
  g/s kg/h kg/hr kg/min lb/min lbs/min g/rev g/cyl mg mg/str mg/stroke mg/cyl mg/stk g kg lb lbs
  kgcm2 kgf/cm2 kg/cm2 kp/cm2 pascal kilopascal millibar bars torr degk degcelsius degreesc degreec gradc centigrade degfahrenheit degreesf degreef
  krpm rpmx1000 upm rps rad/s kgph pph lpm l/min ccm ccmin kg/s lb/s lb/h lb/hr g/min knots kts kn kmph
  microseconds milliseconds millis msecs usecs sek sekunden secondes segundos secondi minutes minuten hour hours
  degs grados gradi degca degcrank degbtdc degatdc atdc prozent pourcent millivolt vdc watt bhp whp cv mm2 cm2 m2 sqft litres liters ltr in3
  lbfft lbft kgfm φ
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
