/** Short names made from long ones. */

/**
 * A short name made from a long one, `-2` and so on where it is taken: "Press bushings" is `press-bushings`. Null for
 * no name.
 *
 * @example freeId('Press bushings', new Set(['press-bushings'])) // 'press-bushings-2'
 */
export function freeId(name: string, taken: ReadonlySet<string>): string | null {
  if (name === '') return null;
  const base =
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[\u0300-\u036f]/g, '')
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 50)
      .replace(/-+$/, '') || 'item';
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
  return id;
}
