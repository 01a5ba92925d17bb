/** Sizes of the figures, in units of their view boxes. Narrow, so that letters stay legible on a telephone. */
export const FIGURE_WIDTH = 480;
export const PLOT_LEFT = 44;
export const PLOT_RIGHT = FIGURE_WIDTH - 8;
export const HEADER = 24;
export const AXIS = 40;
const LETTER = 6.4;
const BOLD_LETTER = 7.5;

/** Width of a text at the figures' letter size, about. */
export const textWidth = (text: string): number => text.length * LETTER;
export const boldWidth = (text: string): number => text.length * BOLD_LETTER;

/** Units as a reader writes them. */
export const unitWords = (unit: string): string => (unit === 'degC' ? '°C' : unit);

export const tenth = (value: number): number => Math.round(value * 10) / 10 + 0;
