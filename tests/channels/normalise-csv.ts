import type { ChannelId } from '../../src/channels/catalogue.ts';
import { columnsWanted } from '../../src/channels/columns-wanted.ts';
import { type NormaliseOptions, normalise } from '../../src/channels/normalise.ts';
import { parseMapping } from '../../src/channels/read-mapping.ts';
import type { Channel, Recording } from '../../src/channels/recording.ts';
import { readTable } from '../../src/read/read-table.ts';
import type { Table } from '../../src/read/table.ts';

export const tableOf = (csv: string, keep?: (name: string) => boolean): Table =>
  readTable({ chunks: [new TextEncoder().encode(csv)], name: 'log.csv' }, keep ? { keep } : {});

/** A log's text from its header and one function per row. */
export function csvOf(header: string, rows: number, row: (i: number) => readonly (string | number)[]): string {
  return [header, ...Array.from({ length: rows }, (_, i) => row(i).join(','))].join('\n');
}

/** The whole way from text to recording, with time in a column `t` of seconds unless the mapping says otherwise. */
export function recordingOf(csv: string, mapping: object, options: NormaliseOptions = {}): Recording {
  const whole = { pullgate: 'map/1', time: { column: 't', unit: 's' }, ...mapping };
  const parsed = parseMapping(JSON.stringify(whole), 'test.map.json');
  const names: string[] = [];
  const wanted = columnsWanted(parsed);
  const table = tableOf(csv, (name) => {
    names.push(name);
    return wanted(name);
  });
  return normalise(table, parsed, { columnNames: names, ...options });
}

export function channelOf(recording: Recording, id: ChannelId): Channel {
  const channel = recording.channels.get(id);
  if (!channel) throw new Error(`no ${id} in the recording`);
  return channel;
}
