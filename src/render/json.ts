import type { Renderer, RenderStyle } from './format.ts';

/** One log gives its report, several a summary. */
export function jsonRenderer({ several }: Pick<RenderStyle, 'several'>): Renderer {
  return {
    each: () => '',
    end: (summary) => {
      const [only] = summary.reports;
      if (several || only === undefined) return `${JSON.stringify(summary, null, 2)}\n`;
      return `${JSON.stringify(only, null, 2)}\n`;
    },
  };
}
