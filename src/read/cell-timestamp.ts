import { fractionAt, secondsWithFraction } from './cell-clock.ts';

const DATE_TIME = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d))?/;
const ZONE = /(?:Z|([+-])(\d\d)(?::?(\d\d))?)$/;

/**
 * An ISO 8601 date and time (`2024-05-01T10:00:00.5+02:00`; a space for the T; the zone may be absent and then counts
 * as UTC) as seconds since 1970-01-01T00:00:00Z. NaN for everything else, a date that does not exist included.
 */
export function parseTimestamp(text: string): number {
  if (text.charCodeAt(4) !== 45) return Number.NaN;
  const found = DATE_TIME.exec(text);
  if (!found) return Number.NaN;
  const [year, month, day, hours, minutes] = found.slice(1, 6).map(Number);
  const seconds = Number(found[6] ?? 0);
  if (hours > 23 || minutes > 59 || seconds > 60) return Number.NaN;
  const midnight = new Date(Date.UTC(2000, month - 1, day));
  midnight.setUTCFullYear(year, month - 1, day);
  if (midnight.getUTCMonth() !== month - 1 || midnight.getUTCDate() !== day) return Number.NaN;

  const rest = text.slice(found[0].length);
  const zone = ZONE.exec(rest);
  const fraction = fractionAt(rest, 0, zone ? zone.index : rest.length);
  if (fraction === undefined || (fraction !== '' && found[6] === undefined)) return Number.NaN;
  const zoneHours = Number(zone?.[2] ?? 0);
  const zoneMinutes = Number(zone?.[3] ?? 0);
  if (zoneHours > 23 || zoneMinutes > 59) return Number.NaN;
  const offset = (zone?.[1] === '-' ? -1 : 1) * (zoneHours * 3600 + zoneMinutes * 60);
  const whole = midnight.getTime() / 1000 + hours * 3600 + minutes * 60 + seconds - offset;
  return secondsWithFraction(whole, fraction);
}
