/** Runs in the page: letters of its pictures that leave their picture, and pairs that lie over each other. */
export function clippedOrCrossed(): string[] {
  const faults: string[] = [];
  const OVERLAP = 0.15;
  for (const figure of document.querySelectorAll('svg.figure')) {
    const frame = figure.getBoundingClientRect();
    const texts = [...figure.querySelectorAll('text')].map((one) => ({
      words: one.textContent ?? '',
      box: one.getBoundingClientRect(),
    }));
    const title = figure.querySelector('title')?.textContent;
    texts.forEach(({ words, box }, i) => {
      if (box.width === 0) faults.push(`${title}: "${words}" is not seen`);
      if (box.left < frame.left - 1 || box.right > frame.right + 1) faults.push(`${title}: "${words}" is cut off`);
      if (box.top < frame.top - 1 || box.bottom > frame.bottom + 1) faults.push(`${title}: "${words}" is cut off`);
      for (const other of texts.slice(i + 1)) {
        const wide = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const high = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        if (wide <= 0 || high <= 0) continue;
        const least = Math.min(box.width * box.height, other.box.width * other.box.height);
        if (wide * high > OVERLAP * least) faults.push(`${title}: "${words}" over "${other.words}"`);
      }
    });
  }
  return faults;
}
