import * as z from 'zod/mini';
import { described } from '../kernel/described.ts';
import { CATALOGUE } from './catalogue.ts';

const text = (description: string) => z.exactOptional(described(z.string().check(z.minLength(1)), description));

const ChannelIdSchema = z.enum(CATALOGUE.map((entry) => entry.id));

export const TIME_UNITS = ['s', 'ms', 'us', 'min', 'clock', 'iso8601', 'epoch_s', 'epoch_ms'] as const;
export type TimeUnit = (typeof TIME_UNITS)[number];

const MappedTime = z.union([
  z.strictObject({
    column: described(z.string().check(z.minLength(1)), 'Name of the time column.'),
    unit: z.exactOptional(
      described(
        z.enum(TIME_UNITS),
        'How the time is written. Left out: from the header, else by the form of the cells, else s.',
      ),
    ),
  }),
  z.strictObject({
    rate: described(
      z.number().check(z.positive({ abort: true }), z.minimum(0.001), z.maximum(100_000)),
      'Rows per second (Hz), for a log without a time column.',
    ),
  }),
]);

const ChannelSource = z.strictObject({
  column: described(z.string().check(z.minLength(1)), 'Name of the column (long layout: the name in the name column).'),
  unit: text('Unit of the cells after scale and offset. Left out: from the header, else the canonical unit.'),
  scale: z.exactOptional(described(z.number(), 'value = raw × scale + offset, then the unit.')),
  offset: z.exactOptional(described(z.number(), 'value = raw × scale + offset, then the unit.')),
  reference: z.exactOptional(
    described(z.enum(['absolute', 'gauge']), 'What a pressure is measured against: vacuum or the air around.'),
  ),
  stoich: z.exactOptional(
    described(
      z.number().check(z.positive()),
      'Stoichiometric air-fuel ratio that the gauge assumes, for AFR. Default 14.7.',
    ),
  ),
  values: z.exactOptional(
    described(z.record(z.string(), z.number()), 'Text in the cell → number, for example { "CL": 2 }.'),
  ),
  time: text('Name of the channel’s own time column, where it has one.'),
});

const MappedChannel = z.union([z.string().check(z.minLength(1)), ChannelSource]);

export const MappingSchema = z.strictObject({
  $schema: z.exactOptional(described(z.string(), 'Address of the JSON Schema, for editors.')),
  pullgate: described(z.literal('map/1'), 'Kind and version of this file.'),
  title: text('What this mapping is for; shown in reports.'),
  dialect: z.exactOptional(
    described(
      z.strictObject({
        delimiter: text('What separates cells, for example "," or ";" or "\\t".'),
        encoding: text('utf-8, utf-16le, utf-16be or windows-1252.'),
        quoteChar: text('What encloses cells, usually a double quote.'),
        commentPrefix: text('Lines that start with it are left out.'),
        skipRows: z.exactOptional(described(z.int().check(z.nonnegative()), 'Lines before the header.')),
        headerRowCount: z.exactOptional(described(z.literal([1, 2]), '1: names; 2: names, then units.')),
        decimalChar: z.exactOptional(described(z.enum(['.', ',']), 'Decimal point or decimal comma.')),
      }),
      'How the file is written; whatever is left out is found out.',
    ),
  ),
  layout: z.exactOptional(described(z.enum(['wide', 'long']), 'wide: a column per channel; long: a row per sample.')),
  long: z.exactOptional(
    described(
      z.strictObject({
        name: described(z.string().check(z.minLength(1)), 'Column with the channel’s name.'),
        value: described(z.string().check(z.minLength(1)), 'Column with the value.'),
        unit: text('Column with the unit.'),
      }),
      'The columns of the long layout.',
    ),
  ),
  time: described(MappedTime, 'The time column and its unit, or the rate of a log without one.'),
  channels: described(
    z.partialRecord(ChannelIdSchema, MappedChannel),
    'Channel → column name, or an object with the column and how to read it.',
  ),
  missing: z.exactOptional(described(z.array(z.string()), 'Texts that stand for no value, for example "N/A".')),
  ignore: z.exactOptional(described(z.array(z.string()), 'Columns never to read.')),
});

export type Mapping = z.infer<typeof MappingSchema>;
export type ChannelSource = z.infer<typeof ChannelSource>;
