/** Edit distance with adjacent transpositions (optimal string alignment); cost O(a·b). */
export function editDistance(a: string, b: string): number {
  const rows = Array.from({ length: a.length + 1 }, (_, i) => {
    const row = new Array<number>(b.length + 1).fill(0);
    row[0] = i;
    return row;
  });
  for (let j = 0; j <= b.length; j++) rows[0][j] = j;
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      rows[i][j] = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        rows[i][j] = Math.min(rows[i][j], rows[i - 2][j - 2] + 1);
      }
    }
  }
  return rows[a.length][b.length];
}

const fold = (text: string) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');

/** Candidates close enough to `name` to be what was meant, nearest first, at most `most`. */
export function nearNames(name: string, candidates: Iterable<string>, most = 3): string[] {
  const wanted = fold(name).slice(0, 80);
  const scored: { candidate: string; distance: number }[] = [];
  for (const candidate of candidates) {
    const folded = fold(candidate).slice(0, 80);
    if (folded === '') continue;
    const [short, long] = wanted.length < folded.length ? [wanted, folded] : [folded, wanted];
    const contains = short.length >= 3 ? long.includes(short) : short === folded && long.startsWith(short);
    const distance = contains ? 1 : editDistance(wanted, folded);
    if (distance <= Math.max(1, Math.floor(Math.max(wanted.length, folded.length) * 0.4))) {
      scored.push({ candidate, distance });
    }
  }
  return scored
    .sort((a, b) => a.distance - b.distance || (a.candidate < b.candidate ? -1 : 1))
    .slice(0, most)
    .map((s) => s.candidate);
}

/** “Did you mean "a" or "b"?”, or nothing where no candidate is near. */
export function didYouMean(name: string, candidates: Iterable<string>): string | undefined {
  const near = nearNames(name, candidates);
  return near.length > 0 ? `Did you mean ${near.map((n) => `"${n}"`).join(' or ')}?` : undefined;
}
