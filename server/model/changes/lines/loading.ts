/** Who loads and unloads a machine that runs alone: as a line says, as the step has it already, or assumed. */
import type { PhaseShape, Step } from '../../step.ts';
import type { Clause } from './clause.ts';
import type { LineDraft, StepDraft } from './draft.ts';

/** Minutes of one person before and after each run that nobody watches (common practice, no source). */
const ASSUMED_LOADING = { load: 5, unload: 5 };

type Hands = Extract<PhaseShape, { kind: 'hands' }>;

const NOBODY =
  /^(?:nobody|no ?one) (?:(?:un)?loads?|(?:has|needs) to (?:un)?load)(?: (?:or|and) (?:un)?loads?)?(?: (?:it|them))?$|^(?:no|without) (?:un)?loading$|^(?:un)?loads (?:itself|by itself)$/;
const BOTH = /^(?:load(?:ing)? (?:and|or|\+|&) unload(?:ing)?)(?: (?:it|them|takes?))?$/;
const LOAD = /^load(?:ing)?(?: (?:it|them|takes?))?$/;
const UNLOAD = /^(?:unload(?:ing)?|take (?:it |them )?(?:out|off))(?: (?:it|them|takes?))?$/;

/** `load 5 min`, `unload 10 min`, `nobody loads it`, behind a run of the same line: minutes for each load. */
export function takeLoading(draft: LineDraft, { text, words, length, onSite, per }: Clause): boolean {
  const step = draft.steps.findLast(({ phases }) => phases.some(({ kind }) => kind === 'run'));
  if (step === undefined || onSite) return false;
  const said = text.trim().toLowerCase();
  if (NOBODY.test(said)) return take(draft, step, { load: 0, unload: 0 });
  if (length === null || per === 'unit') return false;
  const minutes = Math.round(length.minutes);
  if (BOTH.test(words)) return take(draft, step, { load: minutes, unload: minutes });
  if (LOAD.test(words)) return take(draft, step, { load: minutes });
  return UNLOAD.test(words) && take(draft, step, { unload: minutes });
}

function take(draft: LineDraft, step: StepDraft, said: { load?: number; unload?: number }): boolean {
  step.loading = { ...step.loading, ...said };
  draft.facts = draft.facts.filter((fact) => fact.code !== 'loading' || fact.step !== step.name);
  const { load = ASSUMED_LOADING.load, unload = ASSUMED_LOADING.unload } = step.loading;
  draft.facts.push({ code: 'loading', step: step.name, load, unload });
  return true;
}

/**
 * A run with whoever loads and unloads it. A machine that somebody stays with needs no more hands; a step that is there
 * already keeps its own, also where it has none.
 */
export function withLoading(
  draft: LineDraft,
  { name, loading, who }: StepDraft,
  known: Step | null,
  run: Extract<PhaseShape, { kind: 'run' }>,
): PhaseShape[] {
  const machine = [...(draft.build.machines ?? []), ...draft.machines].find(({ id }) => id === run.machine);
  const own = loading === undefined ? loadingOf(known) : null;
  if (own !== null) return [...own.before, run, ...own.behind];
  if (loading === undefined && machine?.unattended !== true) return [run];
  const { load, unload } = { ...ASSUMED_LOADING, ...loading };
  if (loading === undefined) draft.assumed.push({ code: 'loading', step: known?.name ?? name, load, unload });
  const hands = (minutes: number): Hands => ({ kind: 'hands', minutes, ...(who === null ? {} : { who: [...who] }) });
  // Hands of no minutes say that it is on purpose.
  return [hands(load), run, ...(unload === 0 ? [] : [hands(unload)])];
}

/** Hands around the first run of a step that is there; null where it has no run. */
function loadingOf(known: Step | null): { readonly before: Hands[]; readonly behind: Hands[] } | null {
  const phases = known?.phases ?? [];
  const at = phases.findIndex(({ kind }) => kind === 'run');
  if (at < 0) return null;
  const isHands = (phase: PhaseShape | undefined): phase is Hands => phase?.kind === 'hands';
  return { before: [phases[at - 1]].filter(isHands), behind: [phases[at + 1]].filter(isHands) };
}
