export interface PdfHeading {
  readonly title: string;
  /** Counted from 0. */
  readonly page: number;
  /** Height above the lower edge of the sheet, points. */
  readonly top: number;
}

export interface PdfOutline {
  readonly headings: readonly PdfHeading[];
  readonly pageCount: number;
  /** Width and height of the first sheet, points. */
  readonly size: readonly number[];
}

/** Headings of a printed page with their places, from the document outline (ISO 32000-1, 12.3.3) as Chromium writes it. */
export function outlineOf(pdf: Buffer): PdfOutline {
  const text = pdf.toString('latin1');
  const objects = new Map([...text.matchAll(/^(\d+) 0 obj\n([\s\S]*?)\nendobj$/gm)].map(([, id, body]) => [id, body]));
  const sheets = [...objects].filter(([, body]) => /\/Type \/Page\b/.test(body));
  const order = pageOrder(objects);
  const headings = [...objects.values()].flatMap((body): PdfHeading[] => {
    const found = body.match(/\/Title \((.*)\)\n\/Dest \[(\d+) 0 R \/XYZ \S+ (\S+) \S+\]/);
    return found ? [{ title: found[1], page: order.indexOf(found[2]), top: Number(found[3]) }] : [];
  });
  const box = sheets[0]?.[1].match(/\/MediaBox \[0 0 (\S+) (\S+)\]/);
  if (!box || order.length !== sheets.length || headings.some(({ page }) => page < 0))
    throw new Error('not understood');
  return {
    headings: headings.toSorted((a, b) => a.page - b.page || b.top - a.top),
    pageCount: sheets.length,
    size: [Number(box[1]), Number(box[2])],
  };
}

/** Ids of the sheets in order, through the tree of pages (7.7.3). */
function pageOrder(objects: ReadonlyMap<string, string>): string[] {
  const root = [...objects].find(([, body]) => /\/Type \/Pages\b/.test(body) && !body.includes('/Parent'))?.[0];
  const under = (id: string): string[] => {
    const kids = objects.get(id)?.match(/\/Kids \[([^\]]*)\]/)?.[1];
    return kids === undefined ? [id] : [...kids.matchAll(/(\d+) 0 R/g)].flatMap(([, kid]) => under(kid));
  };
  return root === undefined ? [] : under(root);
}
