/** Time zones by the name of a city. */

const ZONES = Intl.supportedValuesOf('timeZone');

/** The names that a time zone can have, for the list under the field. */
export function zoneNames(): readonly string[] {
  return ZONES;
}

/**
 * The zone that somebody means by its name or by a city that it is called after, small letters or not. What is no such
 * name comes back as it was typed, for the check that refuses it.
 *
 * @example zoneOf('new york') // 'America/New_York'
 */
export function zoneOf(typed: string): string {
  const plain = plainName(typed);
  const whole = ZONES.find((zone) => plainName(zone) === plain);
  const cities = ZONES.filter((zone) => plainName(zone.split('/').at(-1)!) === plain);
  return whole ?? (cities.length === 1 ? cities[0]! : typed);
}

/** Letters alone: blanks, hyphens, accents and the size of letters say nothing. */
function plainName(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z/]/g, '');
}
