import type { Format, Renderer, RenderStyle } from '../render/format.ts';
import type { Summary } from '../report/report-schema.ts';
import { type Outcome, summarise } from '../report/summarise.ts';
import { type Output, outputFiles } from './outputs.ts';
import { writeAtomically } from './write-atomically.ts';

/** Takes each outcome as it comes, and the summary at the end. */
export interface Sink {
  readonly each: (outcome: Outcome) => Promise<void> | void;
  readonly end: (summary: Summary) => Promise<void> | void;
}

/** Width of reports that go into a file. */
const FILE_WIDTH = 80;

/** `shownLogs`: the logs of the run in turn, for the names of files in a folder. */
export async function openSinks(
  outputs: readonly Output[],
  style: RenderStyle,
  out: (text: string) => void,
  shownLogs: readonly string[],
): Promise<Sink[]> {
  const fileStyle: RenderStyle = { ...style, colour: 0, width: FILE_WIDTH, ascii: false };
  return Promise.all(
    outputs.map(async (output): Promise<Sink> => {
      const { format, to } = output;
      if (to.kind === 'stdout') return streamSink(await format.open(style), format, style, out);
      if (to.kind === 'file') return fileSink(await format.open(fileStyle), to.path, to.shown);
      return folderSink(
        format,
        outputFiles(output, shownLogs).map(({ path }) => path),
        to.shown,
        fileStyle,
      );
    }),
  );
}

/** Text for people on standard output keeps silent of a single log that is unusable: the message on standard error says it all. */
function streamSink(renderer: Renderer, { id }: Format, { several }: RenderStyle, out: (text: string) => void): Sink {
  const isTold = (count: number) => id !== 'terminal' || several || count > 0;
  return {
    each: (outcome) => {
      if (isTold('report' in outcome ? 1 : 0)) out(renderer.each(outcome));
    },
    end: (summary) => {
      if (isTold(summary.reports.length)) out(renderer.end(summary));
    },
  };
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

/** A file for each log, also for one that is unusable, so that no older report stands for it; with several logs one named `summary`. */
function folderSink(format: Format, paths: readonly string[], shown: string, style: RenderStyle): Sink {
  const left = [...paths];
  const write = (text: string) => writeAtomically(left.shift() as string, text, shown);
  return {
    each: async (outcome) => {
      const renderer = await format.open({ ...style, several: false });
      write(renderer.each(outcome) + renderer.end(summarise([outcome])));
    },
    end: async (summary) => {
      if (style.several) write((await format.open(style)).end(summary));
    },
  };
}
