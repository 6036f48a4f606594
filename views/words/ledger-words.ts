/** How the ledger of room says a change and its causes. */
import type { LedgerSum, RoomSince } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from './marks.tsx';
import { exactText, lengthText, soonText } from './wording.ts';

const say = texts.ledger;
export const SPANS = ['day', 'week', 'start'] as const;
export type LedgerSpanName = (typeof SPANS)[number];

const CAUSES_SAID = 3;
const MINUTES_PER_DAY = 1440;

/** What a kind is called, and the things that it was about where they are several. */
export interface CauseWords {
  readonly words: string;
  readonly more: readonly { readonly words: string; readonly minutes: number }[];
}

/** The largest causes in a line: `−4 h slow pace at mount fish, −2 h …`. */
export function causesText(page: BuildPage, since: RoomSince): string {
  const told = since.sums.map((sum) => ({ minutes: sum.minutes, text: causeText(page, sum) }));
  const untold = { minutes: since.untold, text: `${signedText(since.untold, roundedText)} ${say.untoldNow}` };
  const causes = [...told, untold]
    .filter(({ minutes }) => minutes !== 0)
    .sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes))
    .map(({ text }) => text);
  const shown = causes.slice(0, CAUSES_SAID);
  return `${[...shown, ...(causes.length > shown.length ? [say.and] : [])].join(', ')}.`;
}

function causeText(page: BuildPage, sum: LedgerSum): string {
  return `${signedText(sum.minutes, roundedText)} ${wordsOf(page, sum).words}`;
}

/** A kind that was about one thing alone names it; else the things stand under it. */
export function wordsOf(page: BuildPage, sum: LedgerSum): CauseWords {
  const [only] = sum.subjects;
  if (only !== undefined && only.minutes === sum.minutes && sum.subjects.length === 1) {
    return { words: subjectText(page, sum, only), more: [] };
  }
  const more = sum.subjects.map((part) => ({ words: nameText(page, sum, part), minutes: part.minutes }));
  return { words: kindText(sum), more };
}

/** `6 h less than yesterday`. */
export function sinceText(page: BuildPage, { at, roomThen, roomNow }: RoomSince, span: LedgerSpanName): string {
  const then = thenText(page, at, span);
  if (roomThen === null) return say.noDateThen(then);
  if (roomNow === null) return say.noDate(say.now);
  const change = roomNow - roomThen;
  if (change === 0) return say.same(then);
  return change < 0 ? say.less(lengthText(change, 'up'), then) : say.more(lengthText(change), then);
}

/** What the span begins with: yesterday or a week ago, unless the ledger is younger than that. */
function thenText({ clock, forecast }: BuildPage, at: number, span: LedgerSpanName): string {
  const { now } = forecast;
  if (span === 'day' && at <= now - MINUTES_PER_DAY) return say.yesterday;
  if (span === 'week' && at <= now - 7 * MINUTES_PER_DAY) return say.weekAgo;
  const when = soonText(clock, at, now);
  return span === 'week' ? say.notBegun(when) : say.atFirst(when);
}

function kindText({ kind, minutes, subjects }: LedgerSum): string {
  if (kind === 'time' && minutes < 0 && subjects.length > 0) return say.beyond;
  return say.kind[kind][minutes < 0 ? 0 : 1];
}

function subjectText(page: BuildPage, sum: LedgerSum, part: LedgerSum['subjects'][number]): string {
  const name = nameText(page, sum, part);
  if (sum.kind === 'edit') return name;
  return sum.kind === 'lost' || sum.kind === 'supplier' ? say.of(kindText(sum), name) : say.at(kindText(sum), name);
}

function nameText({ build, forecast }: BuildPage, { kind }: LedgerSum, part: LedgerSum['subjects'][number]): string {
  const { subject, who } = part;
  if (subject === null) return kind === 'lost' ? say.everybody : say.several;
  if (kind === 'time') return subject === 'counted' ? say.counted : say.time;
  if (kind === 'edit') return say.edit(subject, who);
  if (kind === 'lost')
    return [...(build.people ?? []), ...(build.machines ?? [])].find(({ id }) => id === subject)?.name ?? subject;
  return stepName(forecast, subject);
}

/** `−4 h 20 min`, `+1 day`. */
export function signedText(minutes: number, text: (minutes: number) => string = exactText): string {
  return minutes === 0 ? text(0) : `${minutes < 0 ? '\u2212' : '+'}${text(minutes)}`;
}

function roundedText(minutes: number): string {
  return lengthText(minutes, minutes < 0 ? 'up' : 'down');
}
