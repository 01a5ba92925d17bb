import { CATALOGUE, type ChannelEntry } from '../channels/catalogue.ts';

const FILLED_IN_FIRST = 'engine_speed';

function channelLine({ id, title, unit }: ChannelEntry): string {
  return `    // "${id}": "column", // ${title}, ${unit}`;
}

/** The mapping that `init` writes: every channel of the catalogue, all but engine speed commented out. */
export const MAP_STARTER = `// Mapping: which column of the log is which channel. Comments are allowed.
// A channel is a column name, or more: { "column": "Boost", "unit": "psi", "reference": "gauge" },
// { "column": "Wideband", "unit": "AFR", "stoich": 14.7 }, { "column": "Retard", "unit": "deg", "scale": -1 }.
// A unit left out is read from the column's header, else taken as the unit named below.
{
  "$schema": "./pullgate.map.schema.json",
  "pullgate": "map/1",
  "title": "Logger and car",

  // "unit": s, ms, us, min, clock (hh:mm:ss), iso8601, epoch_s or epoch_ms. A log without a time column: { "rate": 20 } in Hz.
  "time": { "column": "FILL IN: the time column", "unit": "s" },

  "channels": {
    "${FILLED_IN_FIRST}": "FILL IN: the engine speed column",
${CATALOGUE.filter((entry) => entry.id !== FILLED_IN_FIRST)
  .map(channelLine)
  .join('\n')}
  },

  // Texts in the log that stand for "no value".
  // "missing": ["N/A", "---"],

  // Columns never to read.
  // "ignore": ["Latitude", "Longitude"],
}
`;
