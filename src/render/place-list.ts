import type { Place } from '../analysers/finding.ts';
import { placeWords } from './terminal/words.ts';

/** The first few places in words, and how many more there are. */
export function placeList(places: readonly Place[], most = Number.POSITIVE_INFINITY): string {
  const shown = places.slice(0, most).map(placeWords).join('; ');
  return places.length > most ? `${shown}; and ${places.length - most} more` : shown;
}
