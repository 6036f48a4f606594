/**
 * What the maker says of units that were made before a change, turned into changes of the build and entries of its log.
 */
import {
  type Change,
  type MadeUnits,
  type Part,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type RippleAnswer,
  type RippleEntry,
  type Unchecked,
} from '../../model/index.ts';
import { type Tally, tallyLog, timedEntries } from '../log/index.ts';
import { lostBySending } from './lost-units.ts';
import { routeOf } from './made.ts';
import { redoSteps } from './redo-steps.ts';
import type { Asked } from './settle-types.ts';

/** Changes to make besides the change itself, and entries to log with it. */
interface Settled {
  readonly changes: readonly Change[];
  readonly entries: readonly RippleEntry[];
}

/**
 * What the answers come to. Units that are still good need nothing. Rework becomes steps of its own (a copy of each
 * step that is done again, at the minutes given), which what follows waits for. Scrap is sent back at all steps that
 * the units have passed, with what went into them, so that it is made and bought again; an order on its way is cut
 * down, stock is written off. A part gets its next revision, and units without an answer stay `unchecked` in it.
 * Refused: an answer about units that are not there (`gone`) or about more than there are (`conflict`), rework that
 * names no step or one that the part does not pass (`unknown-name`).
 */
export function settleRipple(asked: Asked): Result<Settled> {
  const problems = asked.answers.flatMap((answer) => wrongAnswer(answer, asked));
  if (problems.length > 0) return { ok: false, problems };
  const tally = tallyLog(timedEntries(asked.log).entries);
  const lost = lostBySending(asked, tally);
  const redo = redoSteps(asked);
  const parts = [...new Set(asked.made.map(({ part }) => part))].map(
    (id) => asked.build.parts!.find((part) => part.id === id)!,
  );
  return {
    ok: true,
    value: {
      changes: [...redo, ...parts.flatMap((part) => changesOfPart(part, asked, lost.onHand.get(part.id)))],
      entries: [...lost.entries, ...ordersCut(asked, tally)],
    },
  };
}

function wrongAnswer(answer: RippleAnswer, { build, made }: Asked): Problem[] {
  const say = problemTexts.ripple;
  const part = build.parts?.find(({ id }) => id === answer.part);
  const field = fieldOf(answer);
  const state = made.find((units) => isSame(units, answer));
  const sum = answer.good + answer.rework + answer.scrap;
  if (part === undefined || state === undefined) {
    return sum === 0 ? [] : [problem('gone', field, sum, say.gone(part?.name ?? answer.part, sum))];
  }
  const numbers = [answer.good, answer.rework, answer.scrap];
  const odd = numbers.find((units) => !Number.isInteger(units) || units < 0);
  if (odd !== undefined) return [problem('shape', field, odd, say.whole(part.name, odd))];
  if (sum > state.units) return [problem('conflict', field, sum, say.tooMany(part.name, sum, state.units))];
  if (answer.rework === 0) return [];
  const route = routeOf(part, build);
  const strange = answer.redo.find(({ step }) => !route.includes(step));
  if (strange !== undefined) return [problem('unknown-name', field, strange.step, say.noStep(part.name, strange.step))];
  const negative = answer.redo.find(({ minutes }) => minutes !== null && !(minutes > 0 && Number.isFinite(minutes)));
  if (negative !== undefined)
    return [problem('shape', field, negative.minutes, say.minutes(part.name, negative.minutes))];
  return answer.redo.length === 0 ? [problem('unknown-name', field, 'none', say.noRedo(part.name, answer.rework))] : [];
}

/** Where an answer is in a form and in a problem: `ripple.post.passed.sand`. */
export function fieldOf({ part, at, step }: Pick<MadeUnits, 'part' | 'at' | 'step'>): string {
  return ['ripple', part, at, step ?? ''].join('.').replace(/\.$/, '');
}

/** Whether two speak of the same units. */
export function isSame(one: Omit<MadeUnits, 'units'>, other: Omit<MadeUnits, 'units'>): boolean {
  return one.part === other.part && one.at === other.at && one.step === other.step;
}

function changesOfPart(part: Part, asked: Asked, onHand: number | undefined): Change[] {
  const set = (field: string, value: unknown): Change => ({ kind: 'set', list: 'parts', key: part.id, field, value });
  const unchecked = uncheckedOf(part, asked);
  const known = part.unchecked ?? [];
  return [
    ...(asked.raised.has(part.id) ? [set('revision', nextRevision(asked.revisions.get(part.id) ?? ''))] : []),
    ...(onHand === undefined ? [] : [set('onHand', onHand)]),
    ...(unchecked.length === 0 && known.length === 0
      ? []
      : [set('unchecked', unchecked.length === 0 ? undefined : unchecked)]),
  ];
}

/** What got no answer, by state. */
function uncheckedOf(part: Part, { made, answers, revisions, because }: Asked): Unchecked[] {
  return made
    .filter((units) => units.part === part.id)
    .flatMap((units): Unchecked[] => {
      const answer = answers.find((one) => isSame(one, units));
      const left = units.units - (answer === undefined ? 0 : answer.good + answer.rework + answer.scrap);
      const before = part.unchecked?.find((one) => one.at === units.at && (one.step ?? null) === units.step);
      const revision = before?.revision ?? revisions.get(part.id) ?? '';
      const reasons = [...new Set([before?.because ?? '', because])].filter((reason) => reason !== '');
      if (left <= 0) return [];
      return [
        {
          at: units.at,
          ...(units.step === null ? {} : { step: units.step }),
          units: left,
          ...(revision === '' ? {} : { revision }),
          ...(reasons.length === 0 ? {} : { because: reasons.join(', ').slice(0, LONGEST_REASON) }),
        },
      ];
    });
}

const LONGEST_REASON = 200;

/**
 * The revision after one: the last number or letter in it counted on.
 *
 *     nextRevision('A') // 'B'
 *     nextRevision('r9') // 'r10'
 *     nextRevision('') // 'B'
 */
export function nextRevision(revision: string): string {
  const number = /^(.*?)(\d{1,9})$/.exec(revision);
  if (number !== null) return `${number[1]}${Number(number[2]) + 1}`.slice(0, 40);
  const letters = /^(.*?)([A-Za-z])$/.exec(revision);
  if (letters === null) return revision === '' ? 'B' : `${revision} 2`.slice(0, 40);
  const [, before = '', last = ''] = letters;
  if (last === 'Z' || last === 'z') return `${before}${last === 'Z' ? 'AA' : 'aa'}`.slice(0, 40);
  return `${before}${String.fromCharCode(last.charCodeAt(0) + 1)}`;
}

/** Orders with units that are not wanted any more: taken back, and given again for the rest, the latest first. */
function ordersCut({ answers, log }: Asked, tally: Tally): RippleEntry[] {
  return answers.flatMap(({ at, step, scrap }) => {
    if (at !== 'on-its-way' || step === null) return [];
    const open = (tally.steps.get(step)?.starts ?? []).filter((start) => start.kind === 'ordered' && start.open > 0);
    let left = scrap;
    return open.toReversed().flatMap(({ entry, units, open: there }): RippleEntry[] => {
      const cut = Math.min(left, there);
      left -= cut;
      const ordered = log.find(({ id }) => id === entry);
      if (cut === 0 || ordered === undefined) return [];
      const undo: RippleEntry = { kind: 'undo', undoes: entry };
      const rest = { kind: 'ordered' as const, step, n: units - cut, at: ordered.at };
      return units === cut ? [undo] : [undo, ordered.set === undefined ? rest : { ...rest, set: ordered.set }];
    });
  });
}
