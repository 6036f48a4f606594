/** Days and hours as they are typed, on the clock of the build, which need not be the phone's. */

/** An instant as a field for a day and an hour holds it: `2026-12-04T18:05`, in the zone. */
export function wallOf(ms: number, zone: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(ms);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? '';
  return `${part('year')}-${part('month')}-${part('day')}T${part('hour')}:${part('minute')}`;
}

/**
 * The instant of such a field in milliseconds; null where it is empty. For an hour that a clock change skips, the one
 * after it.
 */
export function instantOf(wall: string, zone: string): number | null {
  const asUtc = Date.parse(`${wall}Z`);
  if (Number.isNaN(asUtc)) return null;
  const offsetAt = (ms: number): number => Date.parse(`${wallOf(ms, zone)}Z`) - ms;
  const first = asUtc - offsetAt(asUtc);
  return asUtc - offsetAt(first);
}
