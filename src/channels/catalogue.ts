/** A channel's identity: what it measures, its standard term where there is one, its canonical unit and plausible range. */
export interface ChannelEntry {
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  /** Label of SAE J1979 / ISO 15031-5 where one exists. */
  readonly term?: string;
  /** Values outside are a sensor question, never silently clipped. */
  readonly plausible: readonly [number, number];
}

const CYLINDERS = 12;

const knockRetardByCylinder = Array.from({ length: CYLINDERS }, (_, i) => ({
  id: `knock_retard_${i + 1}` as `knock_retard_${number}`,
  title: `Knock retard, cylinder ${i + 1}`,
  unit: 'deg',
  plausible: [-5, 40] as const,
}));

export const CATALOGUE = [
  { id: 'engine_speed', title: 'Engine speed', unit: 'rpm', term: 'RPM', plausible: [0, 15000] },
  { id: 'vehicle_speed', title: 'Vehicle speed', unit: 'km/h', term: 'VSS', plausible: [0, 400] },
  { id: 'throttle_position', title: 'Throttle position', unit: '%', term: 'TP', plausible: [-5, 105] },
  { id: 'accelerator_position', title: 'Accelerator position', unit: '%', term: 'APP_D', plausible: [-5, 105] },
  { id: 'manifold_pressure', title: 'Manifold pressure', unit: 'kPa', term: 'MAP', plausible: [5, 600] },
  {
    id: 'manifold_pressure_target',
    title: 'Manifold pressure target',
    unit: 'kPa',
    term: 'BP_A_CMD',
    plausible: [5, 600],
  },
  { id: 'barometric_pressure', title: 'Barometric pressure', unit: 'kPa', term: 'BARO', plausible: [50, 110] },
  { id: 'intake_air_temperature', title: 'Intake air temperature', unit: 'degC', term: 'IAT', plausible: [-40, 130] },
  { id: 'charge_air_temperature', title: 'Charge air temperature', unit: 'degC', term: 'CACT', plausible: [-40, 200] },
  { id: 'coolant_temperature', title: 'Coolant temperature', unit: 'degC', term: 'ECT', plausible: [-40, 150] },
  { id: 'oil_temperature', title: 'Oil temperature', unit: 'degC', term: 'EOT', plausible: [-40, 180] },
  { id: 'exhaust_gas_temperature', title: 'Exhaust gas temperature', unit: 'degC', plausible: [-40, 1200] },
  { id: 'mass_air_flow', title: 'Mass air flow', unit: 'g/s', term: 'MAF', plausible: [0, 1500] },
  { id: 'calculated_load', title: 'Calculated load', unit: '%', term: 'LOAD_PCT', plausible: [0, 105] },
  { id: 'absolute_load', title: 'Absolute load', unit: '%', term: 'LOAD_ABS', plausible: [0, 400] },
  { id: 'misfire_count', title: 'Misfire count', unit: 'count', plausible: [0, 1e6] },
  { id: 'trouble_code_count', title: 'Trouble code count', unit: 'count', term: 'DTC_CNT', plausible: [0, 127] },
  { id: 'malfunction_lamp', title: 'Malfunction lamp', unit: '0/1', term: 'MIL', plausible: [0, 1] },
  {
    id: 'short_term_fuel_trim_1',
    title: 'Short term fuel trim, bank 1',
    unit: '%',
    term: 'SHRTFT1',
    plausible: [-100, 100],
  },
  {
    id: 'short_term_fuel_trim_2',
    title: 'Short term fuel trim, bank 2',
    unit: '%',
    term: 'SHRTFT2',
    plausible: [-100, 100],
  },
  {
    id: 'long_term_fuel_trim_1',
    title: 'Long term fuel trim, bank 1',
    unit: '%',
    term: 'LONGFT1',
    plausible: [-100, 100],
  },
  {
    id: 'long_term_fuel_trim_2',
    title: 'Long term fuel trim, bank 2',
    unit: '%',
    term: 'LONGFT2',
    plausible: [-100, 100],
  },
  { id: 'fuel_system_status', title: 'Fuel system status', unit: 'code', term: 'FUELSYS1', plausible: [0, 31] },
  { id: 'fuel_rail_pressure', title: 'Fuel rail pressure', unit: 'kPa', term: 'FRP', plausible: [0, 40000] },
  { id: 'fuel_rail_pressure_target', title: 'Fuel rail pressure target', unit: 'kPa', plausible: [0, 40000] },
  { id: 'injector_pulse_width', title: 'Injector pulse width', unit: 'ms', plausible: [0, 200] },
  { id: 'injector_duty', title: 'Injector duty', unit: '%', plausible: [0, 130] },
  { id: 'ethanol_content', title: 'Ethanol content', unit: '%', term: 'ALCH_PCT', plausible: [0, 100] },
  { id: 'lambda', title: 'Lambda', unit: 'ratio', term: 'EQ_RAT11', plausible: [0.5, 2] },
  { id: 'lambda_target', title: 'Lambda target', unit: 'ratio', term: 'EQ_RAT', plausible: [0.5, 2] },
  { id: 'spark_advance', title: 'Spark advance', unit: 'deg', term: 'SPARKADV', plausible: [-64, 64] },
  { id: 'spark_advance_target', title: 'Spark advance target', unit: 'deg', plausible: [-64, 64] },
  { id: 'knock_retard', title: 'Knock retard', unit: 'deg', plausible: [-5, 40] },
  ...knockRetardByCylinder,
  { id: 'wastegate_duty', title: 'Wastegate duty', unit: '%', term: 'WG_A_CMD', plausible: [0, 100] },
  { id: 'battery_voltage', title: 'Battery voltage', unit: 'V', term: 'VPWR', plausible: [5, 18] },
  { id: 'gear', title: 'Gear', unit: 'number', plausible: [-1, 12] },
] as const satisfies readonly ChannelEntry[];

export type ChannelId = (typeof CATALOGUE)[number]['id'];

export const CHANNEL_IDS: readonly ChannelId[] = CATALOGUE.map((entry) => entry.id);

const BY_ID: ReadonlyMap<string, ChannelEntry> = new Map(CATALOGUE.map((entry) => [entry.id, entry]));

export function channelEntry(id: ChannelId): ChannelEntry {
  return BY_ID.get(id) as ChannelEntry;
}

export function isChannelId(text: string): text is ChannelId {
  return BY_ID.has(text);
}
