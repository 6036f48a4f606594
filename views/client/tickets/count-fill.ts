/** What is in the tickets of a long list is drawn once they are opened: the page holds their lines and its state. */
import type { CountStep } from '../outbox/count-wire.ts';

type Bodies = Pick<typeof import('./count-bodies.ts'), 'bodyText'>;

/** In the language of the page; English where there is no other. */
const SCRIPTS: Readonly<Record<string, string>> = { de: '/assets/count-bodies-german.js' };
const SCRIPT = '/assets/count-bodies.js';

let bodies: Bodies | null = null;

/** Fetches what draws them, where any of these tickets asks for it: at once, while there is a server. */
export async function fetchBodies(tickets: Element): Promise<void> {
  if (bodies !== null || tickets.querySelector('[data-of]') === null) return;
  const script = SCRIPTS[document.documentElement.lang] ?? SCRIPT;
  bodies = await import(script).catch(() => null);
}

/** Draws what is in a ticket, before its cautions, where that is still to be done; says whether it was. */
export function fillTicket(ticket: Element, step: CountStep, setName: string): boolean {
  const body = ticket.querySelector<HTMLElement>('.ticket-body[data-of]');
  if (body === null || bodies === null) return false;
  body.insertAdjacentHTML('afterbegin', bodies.bodyText(step, setName, body.dataset.of!));
  body.removeAttribute('data-of');
  return true;
}
