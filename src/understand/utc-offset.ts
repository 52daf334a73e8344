/** A person's clock in their own words: "my time zone is UTC-7", "gmt+5:30". Names of zones are not understood. */

const OFFSET = /\b(?:utc|gmt)\s*([+\-\u2212])\s*(\d{1,2})(?::?([0-5]\d))?\b/i;

/** Minutes east of Greenwich, from -12 to +14 hours; null where none is told. */
export function utcOffsetIn(text: string): number | null {
  const [, sign, hours, minutes = '0'] = OFFSET.exec(text) ?? [];
  if (!sign) return null;
  const total = Number(hours) * 60 + Number(minutes);
  const east = sign === '+' ? total : -total;
  return east >= -720 && east <= 840 ? east : null;
}
