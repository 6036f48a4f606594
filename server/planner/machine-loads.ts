/** What is in a machine, by the loads that were logged and what was counted out of it since. */
import { readWall } from '../engine/index.ts';
import type { Build, LogEntry, NewLogEntry, Step } from '../model/index.ts';
import { effectOf } from '../model/log/index.ts';

/** A machine that has as many loads in it as it takes. */
export interface FullMachine {
  readonly machine: string;
  /** A step whose units are in it, and how many; units of another may be in it too. */
  readonly step: string;
  readonly units: number;
  /** The entries by which all that is in it went in. */
  readonly loads: ReadonlySet<string>;
}

/**
 * The machine that a load goes into, where it holds as many others as it takes: what was loaded before, and neither
 * counted nor scrapped since. Null where there is room, where the entry is no load, and where a machine may be empty
 * though nothing is counted: its step waits after the run, or does more work than to empty it. `entries`: the log and
 * what was sent since, the load among them or not; `isGone`: whether one was taken back. O(entries).
 */
export function fullMachine(
  load: NewLogEntry,
  { machines = [], steps }: Build,
  entries: readonly LogEntry[],
  isGone: (id: string) => boolean,
): FullMachine | null {
  if (load.kind !== 'loaded') return null;
  const machine = machines.find(({ id }) => id === machineOf(steps.find(({ id }) => id === load.step)));
  if (machine === undefined) return null;
  const inIt = new Set(steps.filter((step) => machineOf(step) === machine.id).map(({ id }) => id));
  const at = secondsOf(load);
  const others = openLoads(
    entries.filter(({ id, step }) => step !== undefined && inIt.has(step) && !isGone(id)),
    load,
  ).filter(({ entry }) => entry.id !== load.id && secondsOf(entry) <= at);
  if (others.length < (machine.count ?? 1)) return null;
  const { step } = others[0]!.entry;
  return {
    machine: machine.name,
    step: steps.find(({ id }) => id === step)!.name,
    units: others.reduce((sum, { entry, left }) => sum + (entry.step === step ? left : 0), 0),
    loads: new Set(others.map(({ entry }) => entry.id)),
  };
}

/** The machine that a step keeps until its units are counted: it runs there once, and is emptied, if that. */
function machineOf(step: Step | undefined): string | null {
  const phases = step?.phases ?? [];
  const at = phases.findIndex(({ kind }) => kind === 'run');
  const run = phases[at];
  const after = phases.slice(at + 1);
  const isEmptied = after.length === 0 || (after.length === 1 && after[0]!.kind === 'hands');
  return run?.kind === 'run' && isEmptied ? run.machine : null;
}

interface OpenLoad {
  readonly entry: NewLogEntry;
  left: number;
}

/** Loads that are not counted out, the oldest of a step and set closed first. */
function openLoads(entries: readonly LogEntry[], load: NewLogEntry): OpenLoad[] {
  const isThere = entries.some(({ id }) => id === load.id);
  const inOrder = [...entries, ...(isThere ? [] : [load])].sort((a, b) => secondsOf(a) - secondsOf(b));
  const open: OpenLoad[] = [];
  for (const entry of inOrder) {
    const { begun, back } = effectOf(entry);
    if (begun > 0) open.push({ entry, left: begun });
    let units = back;
    for (const one of open) {
      if (one.entry.step !== entry.step || !isOneSet(one.entry, entry)) continue;
      const taken = Math.min(units, one.left);
      units -= taken;
      one.left -= taken;
    }
  }
  return open.filter(({ left }) => left > 0);
}

function isOneSet({ set: a }: NewLogEntry, { set: b }: NewLogEntry): boolean {
  return a === undefined || b === undefined || a === b;
}

/** Entries never change, and each is compared with many that come after it. */
const seconds = new WeakMap<NewLogEntry, number>();

/** When an entry happened, in seconds since the epoch; NaN where its instant cannot be read. */
export function secondsOf(entry: NewLogEntry): number {
  const known = seconds.get(entry);
  if (known !== undefined) return known;
  const minutes = readWall(entry.at, 'UTC');
  const value = minutes.ok ? minutes.value * 60 + Number(/T\d\d:\d\d:(\d\d)/.exec(entry.at)?.[1] ?? 0) : Number.NaN;
  seconds.set(entry, value);
  return value;
}
