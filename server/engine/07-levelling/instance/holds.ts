/** From which phase to which a lot has a machine for itself. */
import type { Lot, Phase } from '../../types.ts';

/** The machine is taken at the start of phase `from` and given back at the end of phase `to`. */
export interface MachineHold {
  readonly machine: number;
  readonly from: number;
  readonly to: number;
}

/**
 * What a lot holds its machines for: each run with the hands just before it (loading) and just after it (unloading).
 * Runs of one machine with nothing between them, or with one phase of hands (the piece is turned over), are one hold:
 * the piece stays where it is.
 */
export function holdsOf(phases: readonly Phase[]): readonly MachineHold[] {
  const holds: MachineHold[] = [];
  phases.forEach((phase, i) => {
    if (phase.kind !== 'run') return;
    const from = phases[i - 1]?.kind === 'hands' ? i - 1 : i;
    const to = phases[i + 1]?.kind === 'hands' ? i + 1 : i;
    const before = holds.at(-1);
    const stays = before?.machine === phase.machine && (before.to === from || before.to === i - 1);
    if (stays) holds[holds.length - 1] = { ...before, to };
    else holds.push({ machine: phase.machine, from, to });
  });
  return holds;
}

/** Whether a lot under way keeps its machine or its place beyond what it is in, until somebody ends it. */
export function keepsUntilItsEnd({ phases, station }: Pick<Lot, 'phases' | 'station'>): boolean {
  return station !== null || holdsOf(phases).some(({ from, to }) => from === 0 && to > 0);
}
