/** Who counts on this phone: kept for the build, and said with every entry. */

import type { CountState } from '../outbox/count-wire.ts';
import { recallMe, rememberMe } from './count-memory.ts';

/** The person that is chosen on the page; an empty text where nobody is, or where the build names nobody. */
export function chosenMe(): string {
  return field()?.value ?? '';
}

/** Chooses whom the phone remembers, else whoever signed in by a name of the build; and remembers what is chosen. */
export function openMe({ build, people, who }: CountState): void {
  const me = field();
  if (me === null) return;
  const named = people.find(({ id, name }) => id === who || name === who);
  const known = recallMe(build) ?? named?.id ?? '';
  me.value = people.some(({ id }) => id === known) ? known : '';
  me.addEventListener('change', () => rememberMe(build, me.value));
}

function field(): HTMLSelectElement | null {
  return document.getElementById('me') as HTMLSelectElement | null;
}
