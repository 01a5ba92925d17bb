/** Cost of a check: 1 looking and listening, 2 measuring and logging, 3 setting or swapping a part, 4 taking apart. */
export const CHECK_COSTS = ['look', 'measure', 'swap', 'take apart'] as const;
