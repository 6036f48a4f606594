/**
 * Draws what is in the tickets of a long list, as the server draws it in those of a short one. A script of its own,
 * which pages with a short list never fetch.
 */
import { render } from 'preact-render-to-string';
import { askLanguage, LANGUAGES } from '../../../server/model/texts/language.ts';
import { isolateRuns } from '../../isolate.ts';
import type { CountStep } from '../outbox/count-wire.ts';
import { TicketBody } from './ticket-body.tsx';

if (typeof document !== 'undefined')
  askLanguage(() => LANGUAGES.find((one) => one === document.documentElement.lang) ?? 'en');

/** The HTML of what is in a ticket; `of` is what it says behind the number that is done. */
export function bodyText(step: CountStep, setName: string, of: string): string {
  return isolateRuns(render(TicketBody({ step, setName, of })));
}
