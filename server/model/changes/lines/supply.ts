/** Who sends a part, and how long that takes, whichever of them is said first; and what goes out in between. */

import { freeId } from '../free-id.ts';
import type { Clause } from './clause.ts';
import { type LineDraft, named } from './draft.ts';
import { type Days, readDays } from './measures.ts';
import { capital } from './name-words.ts';
import { newStep, RUNS, TESTS, WAITS, withoutCapital } from './work.ts';
import { isWork } from './work-words.ts';

const BOUGHT = /^(?:bought|buy|ordered|order|purchased)(?: from| at)?(?:\s+|$)/;
/** What is done with a thing, in front of whoever does it. */
const SENT =
  /^(?:(?:\p{L}+ed|sent|send|goes|go|going|comes|come|coming|made|cut|cast|print|out|off)(?: off| out)? )?(?:from|by|at|to) (?:the )?/u;
const BEHIND =
  /\s+(?:takes?|needs?|wants?|says|said|quotes?|quoted|in|for|within|(?:cuts?|makes?|does|do|prints?|coats?) (?:them|it|these))$/;
/** Words beside days that say that something comes, and not from whom. */
const DELIVERY =
  /^(?:deliver(?:y|s|ed|y time)?|shipping|ships?|shipped|lead(?: time)?|arrives?|arriving|comes?|coming|here|turn ?around|on order|ordered?|outsourced?|sent out|send out|by post|online|elsewhere)$/;
const LEAD =
  /^(?:(.*?)\s+)??((?:\d|an? (?:day|week)|one|two|three|four|five)[\w\s.,–-]*?(?:days?|weeks?|d|w))(?:\s+(delivery|lead(?: time)?|shipping|turn ?around|away|to (?:come|arrive|deliver|ship)))?$/;

/** That it goes out to somebody and comes back. */
const GOES =
  /^(?:\p{L}+ed (?:off |out )?to|(?:sent|sends?|goes|go|going|out)(?: off| out)? to|(?:sent|send) out)(?![\p{L}\d])/u;

/** Takes `joiner, 5 days`, `5 days, joiner`, `bought`, `express 2 days`; false where the clause says nothing of it. */
export function takeSupply(draft: LineDraft, clause: Clause): boolean {
  if (draft.part === null) return false;
  const said = clause.text.trim().toLowerCase();
  const bought = BOUGHT.exec(said);
  if (bought !== null && draft.steps.length === 0) draft.bought = true;
  if (GOES.test(said)) draft.sentOut = true;
  const rest = said.slice(bought?.[0].length ?? 0);
  const lead = LEAD.exec(rest);
  const days = lead === null ? null : readDays(lead[2]!);
  if (days === null) return nameAlone(draft, clause, rest, bought !== null);
  return withDays(draft, { before: lead![1] ?? '', days, isDelivery: lead![3] !== undefined, said: rest });
}

/** What a line leaves open at its end: a supplier who is not named gets a name, where it can be nothing else. */
export function closeSupply(draft: LineDraft): string | null {
  const { leadBefore, part, bought } = draft;
  if (leadBefore === null) return null;
  if (!leadBefore.isDelivery && !bought) {
    draft.why ??= 'days-of-hands';
    return leadBefore.said;
  }
  const supplier = `Supplier of ${withoutCapital(part!.name)}`;
  supplied(draft, supplier, leadBefore.lead);
  draft.assumed.push({ code: 'unnamed-supplier', part: part!.name, supplier });
  return null;
}

interface SaidDays {
  readonly before: string;
  readonly days: Days;
  readonly isDelivery: boolean;
  readonly said: string;
}

function withDays(draft: LineDraft, { before, days, isDelivery, said }: SaidDays): boolean {
  const isOnlyDays = before === '';
  const typed = isOnlyDays ? (draft.pending ?? '') : before;
  const name = nameIn(typed);
  if (WAITS.test(name) || (isWork(typed) && name === typed)) return false;
  if (name === 'express') return express(draft, days);
  if (name === '' || DELIVERY.test(name))
    return daysAlone(draft, { before, days, isDelivery: isDelivery || name !== '', said });
  if (draft.steps.length > 0 || draft.part!.fields.supplier !== undefined) return leadStep(draft, name, days);
  supplied(draft, name, days);
  return true;
}

/** Days whose supplier is to come, or was named before. */
function daysAlone(draft: LineDraft, { days, isDelivery, said }: SaidDays): boolean {
  const { part, steps, build } = draft;
  const known = build.suppliers?.find(({ id }) => id === part!.fields.supplier);
  if (steps.length > 0 || draft.leadBefore !== null) return false;
  if (known !== undefined) {
    if (JSON.stringify(known.lead) !== JSON.stringify(days))
      draft.assumed.push({ code: 'lead-kept', supplier: known.name, lead: known.lead });
    return true;
  }
  if (part!.fields.supplier !== undefined) return false;
  draft.pending = null;
  draft.leadBefore = { lead: days, isDelivery, said };
  return true;
}

function express(draft: LineDraft, lead: Days): boolean {
  const { part, build, suppliers } = draft;
  const known = [...suppliers, ...(build.suppliers ?? [])].find(({ id }) => id === part!.fields.supplier);
  if (known === undefined) return false;
  draft.facts.push({ code: 'express', supplier: known.name, lead });
  const at = suppliers.indexOf(known);
  if (at >= 0) suppliers[at] = { ...known, express: { lead } };
  else draft.express.push({ supplier: known.id, lead });
  return true;
}

/** Words without a number may name a supplier: one who is known, whose days were said, or whose days are to come. */
function nameAlone(draft: LineDraft, clause: Clause, rest: string, isBought: boolean): boolean {
  const { words, by, time, times } = clause;
  if (rest === '') return isBought;
  const name = nameIn(rest);
  if (time !== null || (words === '' && by === null) || TESTS.test(rest) || draft.pending !== null) return false;
  const isName = !/\d/.test(rest) && !isWork(name) && !WAITS.test(name);
  if (draft.leadBefore !== null) {
    if (!isName) return false;
    supplied(draft, name, draft.leadBefore.lead);
    draft.leadBefore = null;
    return true;
  }
  const known = named(draft.build.suppliers, name);
  if (known !== null && draft.steps.length === 0) {
    supplied(draft, known.name, known.lead);
    return true;
  }
  if (times !== 1 || (/\d/.test(rest) && !RUNS.test(rest))) return false;
  draft.pending = rest;
  draft.pendingClause = clause;
  return true;
}

function nameIn(typed: string): string {
  const name = typed.trim().replace(SENT, '').replace(/^the /, '');
  return BEHIND.test(name) ? nameIn(name.replace(BEHIND, '')) : name;
}

function supplied(draft: LineDraft, typed: string, lead: Days): void {
  const part = draft.part!;
  const { id, name, lead: kept } = supplierOf(draft, typed, lead);
  Object.assign(part.fields, { source: draft.bought ? 'buy' : 'send-out', supplier: id });
  draft.facts.push({ code: 'supplier', part: part.name, supplier: name, bought: draft.bought, lead: kept });
  if (!draft.bought && !draft.sentOut) draft.assumed.push({ code: 'sent-out', part: part.name });
  if (JSON.stringify(kept) !== JSON.stringify(lead))
    draft.assumed.push({ code: 'lead-kept', supplier: name, lead: kept });
  else if (typeof lead === 'object') draft.assumed.push({ code: 'likely-middle', what: name });
  draft.pending = null;
}

/** What is made here and then goes out, or goes on to somebody else, is a step that takes the supplier's days. */
function leadStep(draft: LineDraft, name: string, days: Days): boolean {
  const { id, name: supplier, lead } = supplierOf(draft, name, days);
  const isElse = JSON.stringify(lead) !== JSON.stringify(days);
  const step = newStep(draft, '', `${draft.part!.name} to ${name}`);
  step.phases.push({ kind: 'lead', supplier: id, days: isElse ? days : null });
  draft.facts.push({ code: 'lead', step: step.name, supplier, lead: days });
  if (typeof days === 'object') draft.assumed.push({ code: 'likely-middle', what: step.name });
  draft.pending = null;
  return true;
}

function supplierOf(draft: LineDraft, said: string, lead: Days): LineDraft['suppliers'][number] {
  const known = named([...(draft.build.suppliers ?? []), ...draft.suppliers], said);
  if (known !== null) return known;
  const taken = new Set([...(draft.build.suppliers ?? []), ...draft.suppliers].map(({ id }) => id));
  const made = { id: freeId(said, taken)!, name: capital(said), lead };
  draft.suppliers.push(made);
  return made;
}
