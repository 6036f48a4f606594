/**
 * Options of a build: changes kept beside it under a name, tried out beside the plan as it is, adopted as an edit or
 * dropped.
 */
import { applyChanges, changesBetween, problem, problemTexts } from '../../model/index.ts';
import type { OptionRow, Store } from '../../store/index.ts';
import { newErrors } from '../edits/new-errors.ts';
import type { GroundCache } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import { changedMeanwhile, openBuild, refused } from '../refusals.ts';
import type { Planner } from '../types.ts';
import { lostThings, madeOf, optionOf } from './option-state.ts';
import { noOption, storeOption } from './store-option.ts';
import { besides, type Trial, type WhatIfs } from './what-if.ts';

const say = problemTexts.edits.option;

/** A sheet waits this long for its options before it shows what is there. */
const LONGEST_WAIT = 1_000;

interface OptionParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly whatIfs: WhatIfs;
  readonly keeper: Pick<ForecastKeeper, 'known'>;
  readonly edit: Planner['edit'];
  readonly stamp: () => string;
  readonly changed: (id: string) => void;
}

type Options = Pick<Planner, 'options' | 'optionNames' | 'whatIf' | 'keepOption' | 'adoptOption' | 'dropOption'>;

/** Keeps options in the store and tries them out. */
export function createOptions(parts: OptionParts): Options {
  return { ...createTrying(parts), ...createKeeping(parts) };
}

/** What is shown of options, and of changes that nobody keeps. */
function createTrying(parts: OptionParts): Pick<Options, 'options' | 'optionNames' | 'whatIf'> {
  const { store, ground, keeper, whatIfs } = parts;
  return {
    whatIf: async (id, changes, expected, entries = []) => {
      const open = openBuild(ground, id);
      if (!open.ok) return open;
      const state = open.value;
      if (state.version.revision !== expected) return changedMeanwhile(store, state, expected);
      const made = applyChanges(state.build, changes);
      if (!made.ok) return made;
      const isSame = changesBetween(state.build, made.value).length === 0;
      const seen = await whatIfs.now(state, isSame ? state.build : made.value, entries);
      const added = newErrors(seen.forecast, seen.present);
      return added.length > 0 ? refused(...added) : { ok: true, value: seen };
    },
    optionNames: (id) => rowsOf(store, ground, id).map(({ number, name }) => ({ number, name })),
    options: async (id, longest = LONGEST_WAIT) => {
      const state = ground.get(id);
      const rows = rowsOf(store, ground, id);
      if (!state || rows.length === 0) return { present: null, options: [] };
      const present = whatIfs.trial(state, state.build);
      const tried = rows.map((row) => {
        const made = madeOf(store, state, row);
        return { row, made, trial: made.ok ? whatIfs.trial(state, made.value) : null };
      });
      await atMost(longest, [present, ...tried.flatMap(({ trial }) => trial ?? [])]);
      const known = keeper.known(state);
      return {
        present: present.tried && besides(present.tried, present.tried, known).present,
        options: tried.map((one) => optionOf(store, state, { present, known }, one)),
      };
    },
  };
}

/** What becomes of options: kept, adopted as an edit, dropped. */
function createKeeping(parts: OptionParts): Pick<Options, 'keepOption' | 'adoptOption' | 'dropOption'> {
  const { store, ground, edit, changed } = parts;

  const dropOption: Options['dropOption'] = (id, number) => {
    const state = ground.get(id);
    const dropped = state?.closed === null ? store.options.drop(state.key, number) : false;
    if (dropped) changed(id);
    return dropped;
  };

  return {
    dropOption,
    keepOption: (id, asked) => {
      const open = openBuild(ground, id);
      if (!open.ok) return open;
      const state = open.value;
      if (state.version.revision !== asked.expected) return changedMeanwhile(store, state, asked.expected);
      const kept = store.together(() => storeOption(store, state, asked, parts.stamp()));
      if (kept.ok) changed(id);
      return kept;
    },
    adoptOption: async (id, number, who, expected) => {
      const option = rowsOf(store, ground, id).find((it) => it.number === number);
      if (option === undefined) return refused(noOption(number));
      const state = ground.get(id)!;
      const before = state.version.revision;
      const lost = lostThings(store, state, option);
      if (lost.length > 0) return refused(...lost);
      const adopted = await edit(id, option.changes, who, expected, { code: 'option', name: option.name });
      if (!adopted.ok) return adopted;
      if (adopted.value.revision === before)
        return refused(problem('conflict', 'option', number, say.isPlan(option.name)));
      dropOption(id, number);
      return adopted;
    },
  };
}

function rowsOf(store: Store, ground: GroundCache, id: string): OptionRow[] {
  const state = ground.get(id);
  return state ? store.options.of(state.key) : [];
}

/** Until all are tried out, or the time is over. */
async function atMost(milliseconds: number, trials: readonly Trial[]): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const over = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, milliseconds);
  });
  await Promise.race([Promise.all(trials.map(({ done }) => done)), over]);
  clearTimeout(timer);
}
