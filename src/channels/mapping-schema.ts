import * as z from 'zod/mini';
import { CATALOGUE } from './catalogue.ts';

const told = (description: string) => z.describe(description);

const text = (description: string) => z.exactOptional(z.string().check(z.minLength(1), told(description)));

const ChannelIdSchema = z.enum(CATALOGUE.map((entry) => entry.id));

export const TIME_UNITS = ['s', 'ms', 'us', 'min', 'clock', 'iso8601', 'epoch_s', 'epoch_ms'] as const;
export type TimeUnit = (typeof TIME_UNITS)[number];

const MappedTime = z.union([
  z.strictObject({
    column: z.string().check(z.minLength(1), told('Name of the time column.')),
    unit: z.exactOptional(
      z
        .enum(TIME_UNITS)
        .check(told('How the time is written. Left out: from the header, else by the form of the cells, else s.')),
    ),
  }),
  z.strictObject({
    rate: z
      .number()
      .check(
        z.positive({ abort: true }),
        z.minimum(0.001),
        z.maximum(100_000),
        told('Rows per second (Hz), for a log without a time column.'),
      ),
  }),
]);

const ChannelSource = z.strictObject({
  column: z.string().check(z.minLength(1), told('Name of the column (long layout: the name in the name column).')),
  unit: text('Unit of the cells after scale and offset. Left out: from the header, else the canonical unit.'),
  scale: z.exactOptional(z.number().check(told('value = raw × scale + offset, then the unit.'))),
  offset: z.exactOptional(z.number().check(told('value = raw × scale + offset, then the unit.'))),
  reference: z.exactOptional(
    z.enum(['absolute', 'gauge']).check(told('What a pressure is measured against: vacuum or the air around.')),
  ),
  stoich: z.exactOptional(
    z
      .number()
      .check(z.positive(), told('Stoichiometric air-fuel ratio that the gauge assumes, for AFR. Default 14.7.')),
  ),
  values: z.exactOptional(
    z.record(z.string(), z.number()).check(told('Text in the cell → number, for example { "CL": 2 }.')),
  ),
  time: text('Name of the channel’s own time column, where it has one.'),
});

const MappedChannel = z.union([z.string().check(z.minLength(1)), ChannelSource]);

export const MappingSchema = z.strictObject({
  $schema: z.exactOptional(z.string().check(told('Address of the JSON Schema, for editors.'))),
  pullgate: z.literal('map/1').check(told('Kind and version of this file.')),
  title: text('What this mapping is for; shown in reports.'),
  dialect: z.exactOptional(
    z
      .strictObject({
        delimiter: text('What separates cells, for example "," or ";" or "\\t".'),
        encoding: text('utf-8, utf-16le, utf-16be or windows-1252.'),
        quoteChar: text('What encloses cells, usually a double quote.'),
        commentPrefix: text('Lines that start with it are left out.'),
        skipRows: z.exactOptional(z.int().check(z.nonnegative(), told('Lines before the header.'))),
        headerRowCount: z.exactOptional(z.literal([1, 2]).check(told('1: names; 2: names, then units.'))),
        decimalChar: z.exactOptional(z.enum(['.', ',']).check(told('Decimal point or decimal comma.'))),
      })
      .check(told('How the file is written; whatever is left out is found out.')),
  ),
  layout: z.exactOptional(z.enum(['wide', 'long']).check(told('wide: a column per channel; long: a row per sample.'))),
  long: z.exactOptional(
    z
      .strictObject({
        name: z.string().check(z.minLength(1), told('Column with the channel’s name.')),
        value: z.string().check(z.minLength(1), told('Column with the value.')),
        unit: text('Column with the unit.'),
      })
      .check(told('The columns of the long layout.')),
  ),
  time: MappedTime.check(told('The time column and its unit, or the rate of a log without one.')),
  channels: z
    .partialRecord(ChannelIdSchema, MappedChannel)
    .check(told('Channel → column name, or an object with the column and how to read it.')),
  missing: z.exactOptional(z.array(z.string()).check(told('Texts that stand for no value, for example "N/A".'))),
  ignore: z.exactOptional(z.array(z.string()).check(told('Columns never to read.'))),
});

export type Mapping = z.infer<typeof MappingSchema>;
export type ChannelSource = z.infer<typeof ChannelSource>;
