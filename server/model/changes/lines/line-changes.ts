/** The changes that a line makes: what is new is put, what is there already is set to what the line says. */
import type { Build } from '../../build.ts';
import type { Estimate } from '../../common.ts';
import type { Gate } from '../../gate.ts';
import type { Parameter } from '../../parameter.ts';
import type { Hazard, PhaseShape, Step } from '../../step.ts';
import type { Change } from '../change.ts';
import { freeId } from '../free-id.ts';
import type { Thing, ThingList } from '../lists.ts';
import { gatesOf, type LineDraft, named, type PhaseDraft, type StepDraft, stepIds } from './draft.ts';
import { hazardGuesses } from './hazard-words.ts';
import { withLoading } from './loading.ts';

/** All changes of a draft, in an order in which they can be made. */
export function changesOf(draft: LineDraft): Change[] {
  const ids = stepIds(draft.build);
  const steps = draft.steps.map((step) => stepOf(draft, step, ids));
  return [
    ...draft.parameters.flatMap((parameter) => parameterChanges(draft.build, parameter)),
    ...draft.suppliers.map((thing) => put('suppliers', thing)),
    ...draft.express.flatMap((express) => expressChanges(draft, express)),
    ...draft.machines.map((thing) => put('machines', thing)),
    ...partChanges(draft),
    ...stepChanges(draft, steps),
    ...gateChanges(draft, steps),
    ...strikeChanges(draft),
  ];
}

/** The steps and gates after which nothing comes: what a job of its own waits for. */
export function endsOf(build: Build): string[] {
  const fed = new Set([
    ...build.steps.flatMap(({ after = [] }) => after.map((it) => (typeof it === 'string' ? it : it.step))),
    ...(build.feeds ?? []).map(({ from }) => from),
    ...gatesOf(build).flatMap(({ after }) => after),
  ]);
  const goesOn = (step: Step, at: number): boolean => {
    const part = build.parts?.find(({ id }) => id === step.part);
    const parents = part?.usedIn?.map((use) => use.part) ?? [];
    const later = build.steps.some((other, i) => i > at && step.part !== undefined && other.part === step.part);
    return later || build.steps.some((other) => other.part !== undefined && parents.includes(other.part));
  };
  const steps = build.steps.filter((step, at) => !fed.has(step.id) && !goesOn(step, at));
  const gates = gatesOf(build).filter(({ id, before = [] }) => !fed.has(id) && before.length === 0);
  return [...steps, ...gates].map(({ id }) => id);
}

/** A number of the design: new, or set to what the line says. */
export function parameterChanges({ parameters }: Build, parameter: Parameter): Change[] {
  const { name } = parameter;
  const there = parameters?.find((it) => it.name === name);
  if (there === undefined) return [{ kind: 'put', list: 'parameters', key: name, thing: { ...parameter } }];
  return (['value', 'formula', 'range', 'origin'] as const).flatMap((field): Change[] =>
    JSON.stringify(there[field]) === JSON.stringify(parameter[field])
      ? []
      : [{ kind: 'set', list: 'parameters', key: name, field, value: parameter[field] }],
  );
}

function expressChanges({ build }: LineDraft, { supplier, lead }: LineDraft['express'][number]): Change[] {
  const there = build.suppliers!.find(({ id }) => id === supplier)!;
  return setFields('suppliers', there, { express: { ...there.express, lead } });
}

function partChanges({ part, build }: LineDraft): Change[] {
  if (part === null) return [];
  const { id, name, isNew, fields } = part;
  if (isNew) return [put('parts', { id, name, source: 'make', ...fields })];
  return setFields('parts', build.parts!.find((it) => it.id === id)!, fields);
}

function stepChanges({ build }: LineDraft, steps: readonly Step[]): Change[] {
  return steps.flatMap((step) => {
    const there = build.steps.find(({ id }) => id === step.id);
    return there === undefined ? [put('steps', step)] : setFields('steps', there, step);
  });
}

/** The step that takes the place of a draft: of that name already, or a new one. */
function stepOf(draft: LineDraft, step: StepDraft, ids: Set<string>): Step {
  const { name, phases, times, lot, who, onSite } = step;
  const { build, part } = draft;
  const known = named(build.steps, name);
  const id = known?.id ?? freeId(name, ids)!;
  ids.add(id);
  const once = phases
    .map((phase) => phaseOf(phase, who))
    .flatMap((phase) => (phase.kind === 'run' ? withLoading(draft, step, known, phase) : [phase]));
  const own = Array.from({ length: times }, () => once).flat();
  const after = part === null && known === null ? waitsForAll(draft, name) : undefined;
  const guessed = known?.hazards === undefined ? guessedHazards(draft, known?.name ?? name, phases) : [];
  const hazards = known?.hazards ?? guessed;
  return {
    id,
    name: known?.name ?? name,
    ...(part === null ? {} : { part: part.id }),
    phases: own,
    ...(lot === null ? {} : { lotSize: lot }),
    ...(after === undefined || after.length === 0 ? {} : { after }),
    ...atPlace(draft, known?.name ?? name, onSite),
    ...(hazards.length === 0 ? {} : { hazards: [...hazards] }),
    ...(guessed.length === 0 ? {} : { hazardsGuessed: true }),
    origin: phases.some((phase) => phase.kind === 'hands' && typeof phase.time === 'object' && 'units' in phase.time)
      ? 'trial'
      : 'guessed',
  };
}

/** What is done at the place, from the hour on at which one may get in, by the words of the trade. */
const THERE =
  /^(?:(?:load|get|bump)[ -]?in|fit[ -]?up|unload|rehears(?:e|al)|(?:tech(?:nical)?|dress)(?: (?:run|rehearsal))?|sound ?check|cue.to.cue|focus(?:ing)?|rig(?:ging)?|install(?:ation)?)\b(?! (?!lights?|it|everything|in|at|on)\w)/i;

function atPlace(draft: LineDraft, step: string, isSaid: boolean): Pick<Step, 'onSite'> {
  const isThere = isSaid || (draft.build.loadIn !== undefined && draft.part === null && THERE.test(step));
  if (isThere) draft.assumed.push({ code: 'on-site', step });
  return isThere ? { onSite: true } : {};
}

/** Better one caution too many: a new step has the hazards of its words until somebody says otherwise. */
function guessedHazards(draft: LineDraft, step: string, phases: readonly PhaseDraft[]): readonly Hazard[] {
  const machines = [...(draft.build.machines ?? []), ...draft.machines];
  const used = machines.filter(({ id }) => phases.some((phase) => phase.kind === 'run' && phase.machine === id));
  const guesses = hazardGuesses(
    step,
    used.map(({ name }) => name),
  );
  if (guesses.length > 0) draft.assumed.push({ code: 'hazards', step, guesses });
  return guesses.map(({ hazard }) => hazard);
}

function waitsForAll(draft: LineDraft, step: string): Step['after'] {
  const ends = endsOf(draft.build);
  if (ends.length > 0)
    draft.assumed.push({ code: 'after-all', step, after: ends.map((id) => nameIn(draft.build, id)) });
  return ends.map((id) => ({ step: id, type: 'finish-start' as const }));
}

function phaseOf(phase: PhaseDraft, who: readonly string[] | null): PhaseShape {
  const only = who === null ? {} : { who: [...who] };
  switch (phase.kind) {
    case 'wait':
      return { kind: 'wait', minutes: phase.minutes };
    case 'run':
      return {
        kind: 'run',
        machine: phase.machine,
        ...(phase.per === 'unit' ? { perUnit: phase.time } : { minutes: Math.max(1, spanOf(phase.time)) }),
      };
    case 'lead':
      return { kind: 'lead', supplier: phase.supplier, ...(phase.days === null ? {} : { days: phase.days }) };
    case 'hands': {
      const people = phase.people === 1 ? {} : { people: phase.people };
      const oneGo = phase.oneGo ? { oneGo: true } : {};
      const time = phase.per === 'unit' ? { perUnit: phase.time } : { minutes: spanOf(phase.time) };
      return { kind: 'hands', ...time, ...people, ...oneGo, ...only };
    }
  }
}

/** Minutes of a job as a whole. */
function spanOf(time: Estimate): number {
  if (typeof time === 'number') return Math.round(time);
  if (typeof time === 'object') return Math.round('units' in time ? time.minutes : time.likely);
  return 0;
}

function gateChanges(draft: LineDraft, steps: readonly Step[]): Change[] {
  return draft.gates.flatMap(({ name, minutes, perSet, people, failChance, sendsBack }) => {
    const { build } = draft;
    const known = named(gatesOf(build), name);
    const after = steps.length > 0 ? [steps.at(-1)!.id] : (known?.after ?? endsOf(build));
    const all = [...build.steps, ...steps];
    const gate: Gate = {
      id: known?.id ?? freeId(name, stepIds(build))!,
      name: known?.name ?? name,
      after: [...after],
      minutes,
      ...(perSet ? { perSet } : {}),
      ...(people === 1 ? {} : { people }),
      ...(failChance === null ? {} : { failChance }),
      ...(sendsBack.length === 0
        ? {}
        : { sendsBack: sendsBack.map(({ step, units }) => ({ step: all.find((it) => it.name === step)!.id, units })) }),
    };
    const names = after.map((step) => all.find((it) => it.id === step)?.name ?? step);
    draft.facts = draft.facts.map((fact) =>
      fact.code === 'gate' && fact.gate === name ? { ...fact, after: names } : fact,
    );
    return known === null ? [put('gates', gate)] : setFields('gates', known, gate);
  });
}

function strikeChanges({ strike, build }: LineDraft): Change[] {
  const taken = new Set((build.strike ?? []).map(({ id }) => id));
  return strike.flatMap(({ name, minutes, people }) => {
    const known = named(build.strike, name);
    const job = { id: known?.id ?? freeId(name, taken)!, name: known?.name ?? name, minutes, people };
    taken.add(job.id);
    return known === null ? [put('strike', job)] : setFields('strike', known, job);
  });
}

/** What differs from the thing that is there. */
function setFields(list: ThingList, there: object, fields: object): Change[] {
  const { id } = there as { id: string };
  return Object.entries(fields).flatMap(([field, value]): Change[] => {
    const same = JSON.stringify((there as Record<string, unknown>)[field]) === JSON.stringify(value);
    return same || field === 'id' ? [] : [{ kind: 'set', list, key: id, field, value }];
  });
}

function put(list: ThingList, thing: { readonly id: string }): Change {
  return { kind: 'put', list, key: thing.id, thing: thing as unknown as Thing };
}

function nameIn(build: Build, id: string): string {
  return [...build.steps, ...gatesOf(build)].find((it) => it.id === id)?.name ?? id;
}
