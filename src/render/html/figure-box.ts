/** Sizes of the figures, in units of their view boxes. Narrow, so that letters stay legible on a telephone. */
export const FIGURE_WIDTH = 480;
export const FIGURE_RIGHT = FIGURE_WIDTH - 8;
export const PLOT_LEFT = 40;
/** Right of the plot stand the limits and levels by name or value. */
export const PLOT_RIGHT = FIGURE_WIDTH - 62;
export const HEADER = 24;
/** A finding's own line above a plot. */
export const LANE = 17;
export const AXIS = 40;
const LETTER = 6.4;
const BOLD_LETTER = 7.5;

/** Width of a text at the figures' letter size, about. */
export const textWidth = (text: string): number => text.length * LETTER;
export const boldWidth = (text: string): number => text.length * BOLD_LETTER;

/** The unit by whose digits a track's values are written. */
export const writtenUnit = (unit: string): string =>
  unit === 'kPa gauge' ? 'kPa' : unit === 'lambda' ? 'ratio' : unit;

/** Units as a reader writes them. */
export const unitWords = (unit: string): string => (unit === 'degC' ? '°C' : unit);

export const tenth = (value: number): number => Math.round(value * 10) / 10 + 0;
