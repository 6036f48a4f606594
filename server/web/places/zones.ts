/** Time zones by the name of a city. */
import { CITIES } from './cities.ts';

const ZONES = Intl.supportedValuesOf('timeZone');
/** Letters that are no plain one with an accent. */
const PLAIN_LETTERS: Readonly<Record<string, string>> = { ø: 'o', ł: 'l', đ: 'd', ı: 'i', ß: 'ss', æ: 'ae' };

/** The names that a time zone can have, for the list under the field. */
export function zoneNames(): readonly string[] {
  return ZONES;
}

/**
 * The zone that somebody means by its name, by the city that it is called after or by another large one, whatever the
 * accents, and with its country behind a comma. What is no such name comes back as it was typed, for the check that
 * refuses it. O(zones).
 *
 * @example zoneOf('new york') // 'America/New_York'
 * @example zoneOf('München, Germany') // 'Europe/Berlin'
 */
export function zoneOf(typed: string): string {
  return named(plainName(typed)) ?? named(plainName(typed.split(/[,(]/)[0]!)) ?? typed;
}

function named(plain: string): string | null {
  const whole = ZONES.find((zone) => plainName(zone) === plain);
  const cities = ZONES.filter((zone) => plainName(zone.split('/').at(-1)!) === plain);
  return whole ?? (cities.length === 1 ? cities[0]! : (OTHERS.get(plain) ?? null));
}

const OTHERS = new Map(
  Object.entries(CITIES).flatMap(([zone, names]) =>
    names.split(' ').flatMap((name) => [name, spelledOut(name)].map((one): [string, string] => [plainName(one), zone])),
  ),
);

/** `koeln`, where a keyboard has no ö. */
function spelledOut(name: string): string {
  return name.replace(/[äöü]/g, (letter) => ({ ä: 'ae', ö: 'oe', ü: 'ue' })[letter]!);
}

/** Letters alone: blanks, hyphens, accents and the size of letters say nothing. */
function plainName(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[øłđıßæ]/g, (letter) => PLAIN_LETTERS[letter]!)
    .replace(/[^a-z/]/g, '');
}
