/** Names as they are written, and as patterns to be found in what somebody typed. */

/** What a name looks like at the head of a sheet. */
export function capital(name: string): string {
  return name.replace(/^(?:cnc|3d)\b/, (short) => short.toUpperCase()).replace(/^./u, (first) => first.toUpperCase());
}

/** The letters of a name and nothing else, in small ones. */
export function exactly(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
    .replace(/\s+/g, '\\s+');
}

/**
 * A name in the singular or the plural.
 *
 *     oneOrMany('Slats') // 'slat(?:s|es)?'
 */
export function oneOrMany(name: string): string {
  return `${exactly(name).replace(/s$/, '')}(?:s|es)?`;
}
