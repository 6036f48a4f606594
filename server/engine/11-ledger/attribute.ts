/** Where the room went between two forecasts, in parts that add up. */
import type { Build, LedgerKind, LedgerPart, LogEntry } from '../../model/index.ts';
import type { MeasuredPace } from '../02-steps/index.ts';
import type { KeptSchedule } from '../07-levelling/index.ts';
import { groupedBy } from '../numbers/index.ts';
import type { Case } from '../stages/index.ts';
import type { Instant, Minutes } from '../types.ts';
import { type NewsGroup, newsOf, withoutGood } from './news.ts';
import { type RawPart, withOrderJoined } from './order-joined.ts';
import { type Answers, answersAfter, type Survey } from './room-at.ts';

/** One edit: the whole build as it was after it, what was logged by then, and when it was made. */
interface LedgerEdit {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: Instant;
  /** Its number. */
  readonly edit: number;
  readonly who: string;
}

interface Shown {
  readonly log: readonly LogEntry[];
  readonly now: Instant;
  /** Clock minutes to the ready-by, as they were shown. */
  readonly room: Minutes;
}

export interface LedgerSpan {
  readonly before: Shown & { readonly build: Build };
  /** The edits between, in their order; each log holds the one before it. */
  readonly edits: readonly LedgerEdit[];
  readonly after: Shown;
  /** How the work was planned before. */
  readonly former: KeptSchedule;
}

/** Hears how many of the states between the two forecasts are answered. */
type OnState = (done: number, total: number) => void;

/**
 * The change of room from `before` to `after`, in minutes, by what caused it. From the one state to the other leads a
 * chain of states, each with one more kind of change; a part is the difference of two answers that follow each other,
 * so that the parts add up to the whole change exactly, whatever the answers are. Kinds interact (scrap costs more at a
 * slow pace), so the order of the chain decides who bears what they cost together. Edits part the chain: each is
 * charged with what it costs in the state in which it was made. Between them the order is:
 *
 * 1. lost hours, as if they had been known before they began: were they taken off once time had gone by, they would
 *    cost nothing;
 * 2. orders that were placed (they count as counted), then what suppliers promise or brought late, likewise as if known
 *    beforehand;
 * 3. paces, before the count, so that what was made since is paid at the pace at which it was made, and a slow day does
 *    not look like an idle one;
 * 4. units counted, scrapped ones as if they were good; then what was scrapped, failed or sent back, to be made again;
 * 5. time that goes by: what it costs beyond what was counted is time with nothing counted.
 *
 * What is left in the end is another order of work than the one that stood before; it is put to what caused it (see
 * `withOrderJoined`). Parts of 0 are left out, but for what was counted. Costs an answer for each part and three more
 * for each edit; of one kind at most `MOST` are kept apart between two edits, the rest joined.
 */
export function attributeRoom(
  span: LedgerSpan,
  answers: Answers = answersAfter(span.former),
  onState: OnState = () => undefined,
): LedgerPart[] {
  const { before, after } = span;
  const start = answers.room(before) ?? before.room;
  const parts: RawPart[] = [];
  let last = start;
  const chain = [...chainOf(span, answers)];
  for (const [i, { state, onlyCosts = false, ...cause }] of chain.entries()) {
    onState(i, chain.length);
    // A state that cannot be placed has no room of its own: what it did is counted with the next that can.
    const room = answers.room(state);
    if (room === null) continue;
    parts.push({ ...cause, onlyCosts, minutes: room - last });
    last = room;
  }
  return joined(withOrderJoined(parts, after.room - last + (start - before.room)));
}

/** The most that are kept apart of one kind. */
const MOST = 5;
/** Lost hours that are logged late are looked at from when they began, but not from longer ago than this. */
const LONGEST_LOOK_BACK = 14 * 1440;

interface Link extends Omit<LedgerPart, 'minutes'> {
  readonly state: Case;
  /** It can only cost: nothing of it was taken back. */
  readonly onlyCosts?: boolean;
}

function* chainOf({ before, edits, after }: LedgerSpan, answers: Answers): Generator<Link> {
  let here: Case = before;
  for (const { build, log, now, edit, who } of fewEdits(edits)) {
    yield* newsLinks(here, { build: here.build, log, now }, answers);
    here = { build, log, now };
    yield { kind: 'edit', subject: edit === null ? null : String(edit), who, state: here };
  }
  yield* newsLinks(here, { build: here.build, log: after.log, now: after.now }, answers);
}

/** From one state of a build to a later one of the same build. */
function* newsLinks(before: Case, after: Case, answers: Answers): Generator<Link> {
  if (before.now === after.now && before.log.length === after.log.length) return;
  const [from, to] = [answers.survey(before), answers.survey(after)];
  const news = newsOf(before.log, after.log, after.now, to);
  let state: Case = { build: before.build, log: before.log, now: before.now, paces: from.paces, runs: from.runs };
  const link = (kind: LedgerKind, subject: string | null, change: Partial<Case>): Link => {
    state = { ...state, ...change };
    return { kind, subject, who: null, state };
  };
  if (news.lostFrom !== null && news.lostFrom < before.now) {
    yield link('time', null, { now: Math.max(news.lostFrom, before.now - LONGEST_LOOK_BACK) });
  }
  for (const { subject, entries } of few(news.lost)) {
    yield { ...link('lost', subject, { log: [...state.log, ...entries] }), onlyCosts: isNothingUndone(entries) };
  }
  if (news.ordered.length > 0) yield link('counted', null, { log: [...state.log, ...news.ordered] });
  for (const { subject, entries } of few(news.supplier)) {
    yield link('supplier', subject, { log: [...state.log, ...entries] });
  }
  for (const { subject, ...pace } of paceSteps(from, to)) yield link('pace', subject, pace);
  if (news.counted.length > 0) {
    const here = state.log.filter(({ id }) => !news.arrivals.has(id));
    yield link('counted', null, { log: [...here, ...news.counted] });
  }
  for (const { subject, entries } of few(news.scrap)) {
    const log = [...withoutGood(state.log, entries), ...entries];
    yield { ...link('scrap', subject, { log }), onlyCosts: isNothingUndone(entries) };
  }
  yield link('time', null, { log: after.log, now: after.now });
}

function isNothingUndone(entries: readonly LogEntry[]): boolean {
  return entries.every(({ kind }) => kind !== 'undo');
}

type JoinedEdit = Omit<LedgerEdit, 'edit' | 'who'> & Pick<LedgerPart, 'who'> & { readonly edit: number | null };

/** The first ones joined where there are many: the latest are remembered best. */
function fewEdits(edits: readonly LedgerEdit[]): JoinedEdit[] {
  const over = edits.length - MOST;
  return over <= 0 ? [...edits] : [{ ...edits[over]!, edit: null, who: null }, ...edits.slice(over + 1)];
}

function few(groups: readonly NewsGroup[]): NewsGroup[] {
  if (groups.length <= MOST) return [...groups];
  const rest = groups.slice(MOST - 1).flatMap(({ entries }) => entries);
  return [...groups.slice(0, MOST - 1), { subject: null, entries: rest }];
}

/** The paces of the one survey turned into those of the other step by step, those that weigh most first. */
function paceSteps(from: Survey, to: Survey): PaceStep[] {
  const changed = [...new Set([...to.steps.keys(), ...from.runs.keys(), ...to.runs.keys()])]
    .filter((step) => isOtherPace(step, from, to))
    .map((step) => ({ step, weight: weightOf(step, from, to) }))
    .sort((a, b) => b.weight - a.weight);
  const [paces, runs] = [new Map(from.paces), new Map(from.runs)];
  const told = changed.slice(0, changed.length > MOST ? MOST - 1 : MOST).map(({ step }): PaceStep => {
    turn(paces, step, to.paces);
    turn(runs, step, to.runs);
    return { subject: step, paces: new Map(paces), runs: new Map(runs) };
  });
  if (told.length < changed.length) told.push({ subject: null, paces: to.paces, runs: to.runs });
  return told;
}

interface PaceStep {
  readonly subject: string | null;
  readonly paces: ReadonlyMap<string, MeasuredPace>;
  readonly runs: ReadonlyMap<string, number>;
}

function isOtherPace(step: string, from: Survey, to: Survey): boolean {
  const [before, after] = [from.paces.get(step), to.paces.get(step)];
  return before?.firstUnitMinutes !== after?.firstUnitMinutes || from.runs.get(step) !== to.runs.get(step);
}

function turn<T>(values: Map<string, T>, step: string, to: ReadonlyMap<string, T>): void {
  const value = to.get(step);
  if (value === undefined) values.delete(step);
  else values.set(step, value);
}

function weightOf(step: string, from: Survey, to: Survey): Minutes {
  const [before, after] = [from.steps.get(step), to.steps.get(step)];
  if (before === undefined || after === undefined) return 0;
  return Math.abs(before.firstUnitMinutes - after.firstUnitMinutes) * Math.max(before.left, after.left);
}

/**
 * Parts of the same kind about the same thing as one, in the order of the chain; those of nothing left out, but not
 * that something was counted.
 */
function joined(parts: readonly LedgerPart[]): LedgerPart[] {
  const groups = groupedBy(parts, ({ kind, subject, who }) => JSON.stringify([kind, subject, who]));
  return [...groups.values()]
    .map((same) => ({ ...same[0]!, minutes: same.reduce((sum, { minutes }) => sum + minutes, 0) }))
    .filter(({ kind, minutes }) => minutes !== 0 || kind === 'counted');
}
