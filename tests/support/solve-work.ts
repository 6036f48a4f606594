/**
 * The best that can be done in a small work, by a general solver: a mixed integer program indexed by time (A. Pritsker,
 * L. Watters and P. Wolfe, Management Science 16, 1969, from memory), in which every start and every choice of people
 * of every phase is a variable. It is written from the rules of `types.ts` and shares no code with the generator or the
 * bounds.
 */
import type { Lot, Phase, Placement, Work } from '../../server/engine/types.ts';
import { highs } from '../engine/_highs.ts';

/** Given up after. */
const SECONDS = 60;

/** One way of doing a phase. */
interface Option {
  readonly name: string;
  readonly start: number;
  readonly finish: number;
  readonly people: readonly number[];
}

export interface Solved {
  readonly readyAt: number;
  /** Minutes that pinned lots of the workshop start after the time they are pinned to. */
  readonly pinMinutes: number;
  readonly placements: readonly Placement[];
}

/**
 * The earliest instant at which the workshop's lots can be done, and how, if that is possible by `end`; else null. Work
 * on site is left out: nothing in the workshop waits for it. `pinsFirst`: among the ways in which pinned lots start
 * after their times by the fewest minutes in all.
 */
export function solveWork(work: Work, end: number, pinsFirst = false): Solved | null {
  const lots = [...work.lots.keys()].filter((l) => !work.lots[l]!.onSite);
  const options = new Map(lots.map((l) => [l, optionsOf(work, l, end)]));
  const rows = [
    ...[...options.values()].flat().map((phase) => `${sum(phase)} = 1`),
    ...lots.flatMap((l) => chainRows(work.lots[l]!, work, options.get(l)!)),
    ...linkRows(work, options, end),
    ...capacityRows(work, options, end),
    ...lots.map(
      (l) =>
        `ready ${options
          .get(l)!
          .at(-1)!
          .map(({ name, finish }) => `- ${finish - work.now} ${name}`)
          .join(' ')} >= 0`,
    ),
  ];
  if ([...options.values()].flat().some((phase) => phase.length === 0)) return null;
  const names = [...options.values()].flat(2).map(({ name }) => name);
  const late = lots.flatMap((l) => latePins(work.lots[l]!, options.get(l)![0]!));
  // One minute of a pin outweighs every ready finish by `end`.
  const pins = pinsFirst
    ? late.map(({ minutes, name }) => ` + ${minutes * (end - work.now + 1)} ${name}`).join('')
    : '';
  const text = `Minimize\n obj: ready${pins}\nSubject To\n${rows.map((row, i) => ` c${i}: ${row}`).join('\n')}\nBinary\n ${names.join('\n ')}\nEnd\n`;
  const solution = solve(text);
  if (solution.Status !== 'Optimal') return null;
  const isChosen = ({ name }: Pick<Option, 'name'>) =>
    Math.round((solution.Columns[name] as { Primal: number }).Primal) === 1;
  return {
    readyAt: work.now + Math.round((solution.Columns.ready as { Primal: number }).Primal),
    pinMinutes: late.filter(isChosen).reduce((sum, { minutes }) => sum + minutes, 0),
    placements: lots.flatMap((l) =>
      work.lots[l]!.phases.map((phase, i): Placement => {
        const { start, finish, people } = options.get(l)![i]!.find(isChosen)!;
        return {
          lot: l,
          phase: i,
          start,
          finish,
          people,
          machine: phase.kind === 'run' ? phase.machine : null,
          machineUnit: null,
        };
      }),
    ),
  };
}

/** What each late start of a pinned lot costs. */
function latePins({ pinnedStart }: Lot, starts: readonly Option[]): { name: string; minutes: number }[] {
  if (pinnedStart === null) return [];
  return starts
    .filter(({ start }) => start > pinnedStart)
    .map(({ name, start }) => ({ name, minutes: start - pinnedStart }));
}

/** The presolve of this build of the solver calls some feasible programs infeasible: then it is asked again without. */
function solve(text: string) {
  const options = { time_limit: SECONDS };
  const solution = highs.solve(text, options);
  return solution.Status === 'Infeasible' ? highs.solve(text, { ...options, presolve: 'off' }) : solution;
}

function sum(options: readonly Option[], sign = '+'): string {
  return options.map(({ name }) => `${sign} ${name}`).join(' ');
}

/** All ways of doing each phase of lot l by `end`; a milestone counts as a phase that takes no time. */
function optionsOf(work: Work, l: number, end: number): Option[][] {
  const lot = work.lots[l]!;
  const earliest = Math.max(work.now, lot.release, lot.pinnedStart ?? work.now);
  const phases: readonly (Phase | null)[] = lot.phases.length === 0 ? [null] : lot.phases;
  return phases.map((phase, i) => {
    const found: Option[] = [];
    const add = (start: number, finish: number | null, people: readonly number[]) => {
      if (finish !== null && finish <= end) found.push({ name: `x${l}_${i}_${found.length}`, start, finish, people });
    };
    if (i === 0 && lot.begunAt !== null && phase?.kind === 'run') add(lot.begunAt, lot.begunAt + phase.minutes, []);
    else
      for (let t = i === 0 ? earliest : work.now; t <= end; t++)
        for (const people of crews(phase, lot)) add(t, finishOf(work, phase, t, people), people);
    return found;
  });
}

function crews(phase: Phase | null, lot: Lot): number[][] {
  if (phase?.kind !== 'hands' && !(phase?.kind === 'run' && phase.attended)) return [[]];
  const pinned = (lot.pinnedPeople ?? []).filter((person) => phase.eligible.includes(person));
  const subsets: number[][] = [[]];
  for (const person of phase.eligible) subsets.push(...subsets.map((set) => [...set, person]));
  const kept = Math.min(pinned.length, phase.people);
  return subsets.filter(
    (set) => set.length === phase.people && set.filter((person) => pinned.includes(person)).length >= kept,
  );
}

/** When a phase begun at t by these people ends; null where it cannot begin then. */
function finishOf(work: Work, phase: Phase | null, t: number, people: readonly number[]): number | null {
  if (phase === null) return t;
  if (phase.kind === 'wait') return t + phase.minutes;
  if (phase.kind === 'lead')
    return phase.arrivals.arrivals[phase.arrivals.cutoffs.findIndex((cutoff) => cutoff >= t)] ?? null;
  const needed = [...people];
  if (phase.kind === 'run') needed.push(phase.machine);
  if (phase.kind === 'demand') needed.push(...phase.demands.map(({ resource }) => resource));
  const pauses = phase.kind === 'hands' && !phase.oneGo;
  let done = 0;
  for (let at = t; ; at++) {
    if (done === phase.minutes) return at;
    const open = needed.every((resource) => isOpen(work, resource, at));
    if (!open && (!pauses || at === t || at > t + 10_000)) return null;
    if (open) done++;
  }
}

function isOpen(work: Work, resource: number, t: number): boolean {
  const { opens, closes } = work.resources[resource]!.open;
  return opens.some((from, i) => from <= t && t < closes[i]!);
}

/** Phases follow each other: at once, save where they may wait for people. */
function chainRows(lot: Lot, work: Work, options: readonly (readonly Option[])[]): string[] {
  return lot.phases.slice(1).flatMap((phase, i) => {
    const before = lot.phases[i]!;
    const needsPeople = phase.kind === 'hands' || (phase.kind === 'run' && phase.attended && phase.people > 0);
    const mayWait =
      before.kind === 'lead' || (needsPeople && before.kind !== 'hands') || (i === 0 && lot.begunAt !== null);
    const may = (from: number, { start, people }: Option) => {
      if (from > start) return false;
      if (mayWait || from === start) return true;
      if (phase.kind !== 'hands') return false;
      for (let t = from; t < start; t++) if (people.every((person) => isOpen(work, person, t))) return false;
      return true;
    };
    return options[i + 1]!.map(
      (option) => `${sum(options[i]!.filter(({ finish }) => may(finish, option)))} - ${option.name} >= 0`,
    );
  });
}

/** By t, nothing has happened whose cause has not happened long enough before. */
function linkRows(work: Work, options: ReadonlyMap<number, readonly (readonly Option[])[]>, end: number): string[] {
  return work.links.flatMap(({ from, to, type, lagMinutes, lagOpen }) => {
    const [causes, effects] = [options.get(from), options.get(to)];
    if (causes === undefined || effects === undefined) return [];
    if (work.lots[to]!.begunAt !== null && type.endsWith('-start')) return [];
    const [head, tail] = type.split('-') as ['finish' | 'start', 'finish' | 'start'];
    const cause = (head === 'finish' ? causes.at(-1)! : causes[0]!).map((option) => ({
      option,
      at: after(option[head], lagMinutes, lagOpen),
    }));
    const effect = tail === 'finish' ? effects.at(-1)! : effects[0]!;
    const rows: string[] = [];
    for (let t = work.now; t <= end; t++) {
      const done = effect.filter((option) => option[tail] === t);
      const allowed = cause.filter(({ at }) => at <= t).map(({ option }) => option);
      if (done.length > 0 && allowed.length < cause.length)
        rows.push(
          `${sum(allowed)} ${sum(
            effect.filter((option) => option[tail] <= t),
            '-',
          )} >= 0`,
        );
    }
    return rows;
  });
}

/** t and a lag, minute by minute; a head start reaches no further back than it must. */
function after(t: number, lag: number, open: Work['links'][number]['lagOpen']): number {
  if (open === null || lag === 0) return t + lag;
  const isThere = (at: number) => open.opens.some((from, i) => from <= at && at < open.closes[i]!);
  const step = Math.sign(lag);
  let at = t;
  for (let left = Math.abs(lag); left > 0; at += step) {
    if (step < 0 && at <= open.opens[0]!) return Number.NEGATIVE_INFINITY;
    if (isThere(step > 0 ? at : at - 1)) left--;
  }
  return at;
}

/** At every minute: what holds each resource, from its first minute on until its last. */
function capacityRows(work: Work, options: ReadonlyMap<number, readonly (readonly Option[])[]>, end: number): string[] {
  const rows: string[] = [];
  work.resources.forEach(({ capacity }, r) => {
    for (let t = work.now; t < end; t++) {
      const terms: string[] = [];
      const hold = (first: readonly Option[], last: readonly Option[]) => {
        terms.push(
          sum(first.filter(({ start }) => start <= t)),
          sum(
            last.filter(({ finish }) => finish <= t),
            '-',
          ),
        );
      };
      for (const [l, phases] of options) {
        const lot = work.lots[l]!;
        if (lot.station === r) hold(phases[0]!, phases.at(-1)!);
        lot.phases.forEach((phase, i) => {
          if (phase.kind === 'run' && phase.machine === r) {
            hold(
              phases[lot.phases[i - 1]?.kind === 'hands' ? i - 1 : i]!,
              phases[lot.phases[i + 1]?.kind === 'hands' ? i + 1 : i]!,
            );
          }
          const amount =
            phase.kind === 'demand' ? (phase.demands.find(({ resource }) => resource === r)?.amount ?? 0) : 0;
          const busy = phases[i]!.filter(
            ({ start, finish, people }) => start <= t && t < finish && (amount > 0 || people.includes(r)),
          );
          terms.push(...busy.map(({ name }) => `+ ${Math.max(1, amount)} ${name}`));
        });
      }
      const text = terms.filter((term) => term !== '').join(' ');
      if (text !== '') rows.push(`${text} <= ${capacity}`);
    }
  });
  return rows;
}
