/** Rework after a change, as steps of its own. */
import type { Build, Change, Feed, Part, PhaseShape, RippleAnswer, Step } from '../../model/index.ts';
import { routeOf, takersOf } from './made.ts';
import type { Asked } from './settle-types.ts';

/**
 * For each answer with rework a copy of each step that is done again, with as many units and, where minutes are given,
 * these for each unit of hands; one after the other, unit by unit. What follows (the next step of the part, else the
 * step that takes it) is not finished before the last of them.
 */
export function redoSteps({ build, answers, because }: Asked): Change[] {
  const taken = new Set([...build.steps, ...(build.gates ?? [])].map(({ id }) => id));
  return answers.flatMap((answer) => {
    if (answer.rework === 0) return [];
    const part = build.parts!.find(({ id }) => id === answer.part)!;
    const route = routeOf(part, build);
    const redo = [...answer.redo].sort((a, b) => route.indexOf(a.step) - route.indexOf(b.step));
    const steps: Step[] = [];
    for (const one of redo) {
      const copied = copyOf(build, one, answer, because, freeId(`redo-${one.step}`, taken));
      const before = steps.at(-1) ?? firstAfter(answer);
      steps.push(before === null ? copied : { ...copied, after: [{ step: before.id, type: 'units', ratio: 1 }] });
    }
    const next = followerOf(part, route, answer, build);
    const last = steps.at(-1);
    return [
      ...steps.map((step): Change => ({ kind: 'put', list: 'steps', key: step.id, thing: step })),
      ...(next === null || last === undefined ? [] : [linkOf(build, last.id, next)]),
    ];
  });
}

/** What is on its way must come first. */
function firstAfter({ at, step }: RippleAnswer): { readonly id: string } | null {
  return at === 'on-its-way' && step !== null ? { id: step } : null;
}

function copyOf(
  build: Build,
  { step: id, minutes, name }: RippleAnswer['redo'][number],
  { rework }: RippleAnswer,
  because: string,
  own: string,
): Step {
  const step = build.steps.find((one) => one.id === id);
  const { skill, hazards, onSite, lotSize, setup, setupEach, stations, takes } = step ?? {};
  const phases = phasesFor(step?.phases ?? [], minutes);
  const kept = { skill, hazards, onSite, lotSize, setup, setupEach, stations, ...(minutes === null ? { takes } : {}) };
  return {
    id: own,
    name: name.slice(0, LONGEST_NAME),
    count: rework,
    ...Object.fromEntries(Object.entries(kept).filter(([, value]) => value !== undefined)),
    ...(phases.length === 0 ? {} : { phases: [...phases] }),
    origin: 'guessed',
    ...(because === '' ? {} : { note: because }),
  };
}

const LONGEST_NAME = 120;

/** The work pattern at other minutes a unit: of its first hands, else of a phase of hands in front. */
function phasesFor(phases: readonly PhaseShape[], minutes: number | null): readonly PhaseShape[] {
  if (minutes === null) return phases;
  const at = phases.findIndex((phase) => phase.kind === 'hands' && phase.perUnit !== undefined);
  const place = at >= 0 ? at : phases.findIndex((phase) => phase.kind === 'hands');
  if (place < 0) return [{ kind: 'hands', perUnit: minutes }, ...phases.filter(({ kind }) => kind === 'wait')];
  return phases.map((phase, i) => {
    if (i !== place || phase.kind !== 'hands') return phase;
    const { minutes: _, ...rest } = phase;
    return { ...rest, perUnit: minutes };
  });
}

/** The step that comes next for these units; null where none does. */
function followerOf(part: Part, route: readonly string[], { at, step }: RippleAnswer, build: Build): string | null {
  const taker = takersOf(part, build)[0]?.step ?? null;
  if (at === 'on-hand') return taker;
  if (at !== 'mounted') return route[route.indexOf(step ?? '') + 1] ?? taker;
  const own = build.steps.find((one) => one.id === step)?.part;
  const parent = build.parts?.find(({ id }) => id === own);
  const onward = parent === undefined ? [] : routeOf(parent, build);
  return onward[onward.indexOf(step ?? '') + 1] ?? null;
}

function linkOf(build: Build, from: string, to: string): Change {
  const feed: Feed = { from, to, type: 'finish-finish' };
  const at = (build.feeds ?? []).filter((one) => one.from === from && one.to === to).length;
  return { kind: 'put', list: 'feeds', key: at === 0 ? `${from}>${to}` : `${from}>${to}#${at + 1}`, thing: feed };
}

function freeId(wanted: string, taken: Set<string>): string {
  const base = wanted.slice(0, 50);
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
  taken.add(id);
  return id;
}
