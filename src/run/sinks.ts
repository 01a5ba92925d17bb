import type { Format, Renderer, RenderStyle } from '../render/format.ts';
import type { Summary } from '../report/report-schema.ts';
import { type Outcome, summarise } from '../report/summarise.ts';
import { fileInFolder, type Output } from './outputs.ts';
import { writeAtomically } from './write-atomically.ts';

/** Takes each outcome as it comes, and the summary at the end. */
export interface Sink {
  readonly each: (outcome: Outcome) => Promise<void> | void;
  readonly end: (summary: Summary) => Promise<void> | void;
}

/** Width of reports that go into a file. */
const FILE_WIDTH = 80;

export async function openSinks(
  outputs: readonly Output[],
  style: RenderStyle,
  out: (text: string) => void,
): Promise<Sink[]> {
  const fileStyle: RenderStyle = { ...style, colour: 0, width: FILE_WIDTH };
  return Promise.all(
    outputs.map(async ({ format, to }): Promise<Sink> => {
      if (to.kind === 'stdout') return streamSink(await format.open(style), out);
      if (to.kind === 'file') return fileSink(await format.open(fileStyle), to.path, to.shown);
      return folderSink(format, to.path, to.shown, fileStyle);
    }),
  );
}

function streamSink(renderer: Renderer, out: (text: string) => void): Sink {
  return { each: (outcome) => out(renderer.each(outcome)), end: (summary) => out(renderer.end(summary)) };
}

function fileSink(renderer: Renderer, path: string, shown: string): Sink {
  const texts: string[] = [];
  return {
    each: (outcome) => {
      texts.push(renderer.each(outcome));
    },
    end: (summary) => writeAtomically(path, texts.join('') + renderer.end(summary), shown),
  };
}

/** A file for each log, and with several logs one named `summary`. */
function folderSink(format: Format, folder: string, shown: string, style: RenderStyle): Sink {
  const taken = new Set([`summary.${format.inFolder ?? format.extension}`]);
  const write = (path: string, text: string) => writeAtomically(path, text, shown);
  return {
    each: async (outcome) => {
      if (!('report' in outcome)) return;
      const renderer = await format.open({ ...style, several: false });
      const path = fileInFolder(folder, outcome.report.log.file, format, taken);
      write(path, renderer.each(outcome) + renderer.end(summarise([outcome])));
    },
    end: async (summary) => {
      if (!style.several) return;
      const renderer = await format.open(style);
      write(fileInFolder(folder, 'summary.csv', format, new Set()), renderer.end(summary));
    },
  };
}
