/** Forms that are unfolded get what they most likely say. */

import { wallOf } from './wall-time.ts';

/** Fills what was unfolded: lost time from now to midnight, lost parts by the number that was typed. */
export function unfolded(target: Element, nowMs: number, zone: string): void {
  if (!(target instanceof HTMLDetailsElement) || !target.open) return;
  if (target.classList.contains('lost-parts')) fillParts(target);
  const from = target.querySelector<HTMLInputElement>('input[name="from"]');
  const until = target.querySelector<HTMLInputElement>('input[name="until"]');
  if (from === null || until === null) return;
  // The fold tells that it opened a moment later: by then somebody may be typing.
  if (document.activeElement === from || document.activeElement === until) return;
  from.value = wallOf(nowMs, zone);
  until.value = `${from.value.slice(0, 10)}T23:59`;
}

/** Follows a number that is typed while the lost parts under it are unfolded. */
export function numberTyped(field: HTMLInputElement): void {
  const parts = field.name === 'n' ? field.form?.querySelector('.lost-parts') : null;
  if (parts?.hasAttribute('open')) fillParts(parts);
}

function fillParts(parts: Element): void {
  const n = Number((parts.closest('form')!.elements.namedItem('n') as HTMLInputElement).value) || 0;
  for (const field of parts.querySelectorAll<HTMLInputElement>('[data-each]'))
    field.value = String(n * Number(field.dataset.each));
}
