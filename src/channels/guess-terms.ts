import type { ChannelId } from './catalogue.ts';

/** A way to recognise a channel by the words of its column's name, folded to lower case with single blanks. */
export interface GuessRule {
  readonly id: ChannelId;
  readonly pattern: RegExp;
  /** 0…1 */
  readonly confidence: number;
}

/** Words that make a column a wish rather than a measurement. */
export const TARGET_WORDS =
  /\b(target|targ|tgt|desired|des|cmd|command|commanded|request|requested|req|demand|demanded|setpoint|soll|sollwert|consigne|objetivo|obiettivo|reference)\b/;

/** Words that make a column something else than the quantity it names: a limit, a correction, a sensor's voltage, a switch. */
export const OTHER_WORDS =
  /\b(limit|max|min|error|err|raw|volts?|voltage|adc|switch|flag|enable|enabled|offset|learn(ed)?|table|delta|rate of change|gain|bias|integral|compensation|multiplier|factor)\b/;

const rule = (id: ChannelId, confidence: number, pattern: RegExp): GuessRule => ({ id, confidence, pattern });

// Terms of SAE J1979 / J1930 (ISO 15031-5) and of the trade, in English, German, French, Spanish and Italian.
export const GUESS_RULES: readonly GuessRule[] = [
  rule('engine_speed', 0.95, /^(engine )?(rpm|revs)$|^eng(ine)? (speed|spd|rpm)( rpm)?$/),
  rule(
    'engine_speed',
    0.95,
    /^(motor ?)?drehzahl$|^r[ée]gime( moteur)?$|^(giri|regime)( motore)?$|^(rev(oluciones)?|r[ée]gimen) (del )?motor$/,
  ),
  rule(
    'vehicle_speed',
    0.95,
    /^(vehicle|road|car) (speed|spd)$|^vss$|^(fahrzeug ?)?geschwindigkeit$|^vitesse( v[ée]hicule)?$/,
  ),
  rule('vehicle_speed', 0.8, /^speed$|^velocidad( veh[íi]culo)?$|^velocit[àa]( veicolo)?$|^gps speed$/),
  rule(
    'throttle_position',
    0.95,
    /^tp( ?s)?$|^(abs(olute)? )?throttle( plate| valve)?( pos(ition)?| angle| opening)?( abs(olute)?)?( [a1])?$|^drosselklappe(n ?(winkel|stellung|position))?$/,
  ),
  rule(
    'throttle_position',
    0.85,
    /^(position )?papillon( des gaz)?$|^(posici[óo]n )?mariposa$|^(posizione )?farfalla$/,
  ),
  rule(
    'accelerator_position',
    0.95,
    /^acc?(el(erator)?)?( pedal)?( pos(ition)?)( d| 1)?$|^app( d| 1)?$|^(accel(erator)? )?pedal( pos(ition)?)?$|^pps$|^(gas|fahr)pedal(stellung|wert)?$/,
  ),
  rule(
    'accelerator_position',
    0.85,
    /^(position )?p[ée]dale( acc[ée]l[ée]rateur)?$|^(pedal )?acelerador$|^(pedale )?acceleratore$/,
  ),
  rule(
    'manifold_pressure',
    0.95,
    /^map( abs(olute)?| a)?$|^(intake )?manifold( abs(olute)?)?( pressure| press)( abs(olute)?| gauge)?$|^intake (abs(olute)? )?(pressure|press)$|^bp a act$/,
  ),
  rule(
    'manifold_pressure',
    0.9,
    /^boost( pressure| press| act(ual)?)*( abs(olute)?| gauge)?$|^(actual )boost( pressure)?$|^(lade|saugrohr)druck( ist)?$|^pression (d )?(admission|suralimentation|collecteur)$|^presi[óo]n (de )?(admisi[óo]n|turbo|colector)$|^pressione (collettore|turbo)$/,
  ),
  rule(
    'barometric_pressure',
    0.95,
    /^baro$|^barometric( pressure| press)?$|^(ambient|atmospheric)( air)? (pressure|press)$|^(umgebungs|luft)druck$|^pression atmosph[ée]rique$/,
  ),
  rule(
    'intake_air_temperature',
    0.95,
    /^iat( 1)?$|^(intake|inlet)( air)? (temp(erature)?)$|^ansaugluft ?temp(eratur)?$|^temp([ée]rature)? (d )?air( admission)?$|^mat$/,
  ),
  rule(
    'charge_air_temperature',
    0.95,
    /^cact ?(1 ?1)?$|^charge( air)?( cooler)? temp(erature)?$|^(post|after) intercooler temp(erature)?$|^intercooler out(let)? temp(erature)?$|^ladeluft ?temp(eratur)?$/,
  ),
  rule(
    'coolant_temperature',
    0.95,
    /^(ect|clt)$|^(engine )?coolant( temp(erature)?)?$|^(engine )?water temp(erature)?$|^k(ü|ue|u)hl(mittel|wasser) ?(temp(eratur)?)?$|^wasser ?temp(eratur)?$|^temp([ée]rature)? (liquide|eau)( (de )?refroidissement)?$|^temp(eratura)? (refrigerante|agua|acqua)$/,
  ),
  rule(
    'oil_temperature',
    0.95,
    /^eot$|^(engine )?oil temp(erature)?$|^(motor ?)?(ö|oe)l ?temp(eratur)?$|^temp([ée]rature)? huile$/,
  ),
  rule('exhaust_gas_temperature', 0.9, /^egt( ?1)?$|^exhaust( gas)? temp(erature)?( 1)?$|^abgas ?temp(eratur)?$/),
  rule(
    'mass_air_flow',
    0.95,
    /^maf( a)?$|^mass ?air ?flow( rate)?$|^mass airflow$|^air ?flow( rate)?$|^air mass( flow)?$|^luftmasse(n ?strom)?$|^d[ée]bit d? ?air$/,
  ),
  rule('absolute_load', 0.95, /^load abs$|^abs(olute)? load( value)?$/),
  rule('calculated_load', 0.95, /^load pct$|^calc(ulated)?( engine)? load( value)?$/),
  rule('calculated_load', 0.7, /^engine load$/),
  rule(
    'short_term_fuel_trim_1',
    0.95,
    /^shrt ?ft ?1$|^(stft|short ft)( b(ank)?)? ?1$|^short term( fuel)?( trim)?( b(ank)?)? ?1$/,
  ),
  rule('short_term_fuel_trim_1', 0.85, /^(stft|shrtft)$|^short term( fuel)? trim$/),
  rule(
    'short_term_fuel_trim_2',
    0.95,
    /^shrt ?ft ?2$|^(stft|short ft)( b(ank)?)? ?2$|^short term( fuel)?( trim)?( b(ank)?)? ?2$/,
  ),
  rule(
    'long_term_fuel_trim_1',
    0.95,
    /^long ?ft ?1$|^(ltft|long ft)( b(ank)?)? ?1$|^long term( fuel)?( trim)?( b(ank)?)? ?1$/,
  ),
  rule('long_term_fuel_trim_1', 0.85, /^(ltft|longft)$|^long term( fuel)? trim$/),
  rule(
    'long_term_fuel_trim_2',
    0.95,
    /^long ?ft ?2$|^(ltft|long ft)( b(ank)?)? ?2$|^long term( fuel)?( trim)?( b(ank)?)? ?2$/,
  ),
  rule(
    'fuel_system_status',
    0.9,
    /^fuel ?sys( ?1)?$|^fuel sys(tem)? (status|state)( 1)?$|^(closed )?loop (status|state)$/,
  ),
  rule(
    'fuel_rail_pressure',
    0.9,
    /^frp$|^(fuel )?rail (pressure|press)( act(ual)?)?$|^fuel (pressure|press)$|^(kraftstoff|rail) ?druck$|^pression (carburant|rampe)$/,
  ),
  rule(
    'injector_pulse_width',
    0.9,
    /^(fuel )?inj(ector|ection)?( \d)? ?(pulse ?width|pw|pulse|time|duration|on time)( ms)?( b?1)?$|^ipw$|^pulse ?width$|^pw( ?1)?$|^einspritz ?(zeit|dauer)$|^temps (d )?injection$|^tiempo (de )?inyecci[óo]n$|^tempo (di )?iniezione$/,
  ),
  rule('injector_duty', 0.9, /^(fuel )?inj(ector)?( \d)? ?(duty|dc)( cycle)?( 1)?$|^idc$/),
  rule(
    'ethanol_content',
    0.9,
    /^ethanol( content| percent(age)?| pct)?$|^alch pct$|^(alcohol|e) content$|^flex ?fuel( content)?$/,
  ),
  rule(
    'lambda',
    0.9,
    /^(measured |actual |wideband |wb )*(lambda|λ|afr|air fuel ratio|a f( ratio)?)( (b(ank)? ?)?1)?( act(ual)?| measured| ist)?$|^wideband( (lambda|afr|o2))?( 1)?$|^eq rat ?1 ?1$/,
  ),
  rule('lambda_target', 0.9, /^eq rat$/),
  rule('lambda_target', 0.85, /^(fuel air )?command(ed)? (fuel air )?equiv(alence)? ratio$/),
  rule(
    'spark_advance',
    0.9,
    /^spark ?adv(ance)?$|^(spark|ignition|ign)( timing| advance| adv| angle)?( angle| advance)?( cyl(inder)? 1)?$|^timing( advance)?$|^z(ü|ue)nd(winkel|ung|zeitpunkt)$|^avance( (à l )?allumage)?$|^anticipo( accensione)?$|^avance (de )?encendido$/,
  ),
  rule(
    'knock_retard',
    0.9,
    /^kr$|^knock (retard|ret|correction|corr|pull|timing retard|ignition retard)( total| global| sum)?$|^(timing|ignition|ign|spark) (pull|retard)$|^klopf(regelung|r(ü|ue)cknahme)$/,
  ),
  rule(
    'wastegate_duty',
    0.9,
    /^(wg|waste ?gate)( solenoid| control| valve)?( duty| dc)( cycle)?$|^wgdc$|^wg a cmd$|^boost (control |solenoid |valve )*(duty|dc)( cycle)?$/,
  ),
  rule(
    'battery_voltage',
    0.9,
    /^(battery|batt?|ecu|supply|system|control module)( voltage| volts?| v)?$|^v ?batt?$|^vpwr$|^u ?batt?$|^batterie ?spannung$|^tension batterie$/,
  ),
  rule('gear', 0.9, /^(current |actual |engaged )?gear( pos(ition)?| number| no)?$|^gang$|^(rapport|marcha|marcia)$/),
  rule('misfire_count', 0.85, /^misfire( total)?( count(er)?s?)?$|^total misfires?$/),
  rule('trouble_code_count', 0.9, /^(dtc|trouble code)s? ?(cnt|count)$/),
  rule('malfunction_lamp', 0.9, /^mil( status| on)?$|^(malfunction( indicator)?|check engine) (lamp|light)$|^cel$/),
];

/** Channels that have a wish beside the measurement. */
export const TARGET_OF: Partial<Record<ChannelId, ChannelId>> = {
  manifold_pressure: 'manifold_pressure_target',
  fuel_rail_pressure: 'fuel_rail_pressure_target',
  lambda: 'lambda_target',
  spark_advance: 'spark_advance_target',
};

/** `knock retard cyl 3` and the like: the cylinder, where the name tells one. */
export const KNOCK_BY_CYLINDER =
  /^(?:kr|knock (?:retard|ret|correction|corr|pull)|(?:ignition|ign|timing|spark) (?:retard|pull)|klopf ?r(?:ü|ue)cknahme)(?: (?:cyl(?:inder)?|zyl(?:inder)?))? ?(\d{1,2})$|^(?:cyl(?:inder)?|zyl(?:inder)?) ?(\d{1,2}) (?:kr|knock (?:retard|correction|corr|pull)|(?:ignition|timing) (?:retard|pull)|retard)$/;

export const TIME_NAME =
  /^(time|timestamp|time ?stamp|elapsed( time)?|log ?time|seconds?|zeit|uhrzeit|temps|tiempo|tempo|tijd|czas|t|offset|relative time|time (since start|elapsed))$/;

/** Seconds since the engine started (SAE J1979 RUNTM): a clock where a log has no better one. */
export const ENGINE_RUN_TIME =
  /^(engine )?run ?time$|^runtm$|^(time|seconds) since engine start(ed)?$|^engine (on|running) time$|^motorlaufzeit$/;
