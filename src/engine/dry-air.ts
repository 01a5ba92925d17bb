/** Specific gas constant of dry air, J/(kg K). Source: ISO 2533 (8314.32 / 28.96442). */
export const DRY_AIR_GAS_CONSTANT = 287.05287;

/** 0 °C in kelvin, by definition. */
export const ZERO_CELSIUS_K = 273.15;
