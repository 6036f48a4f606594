/** From which phase to which a lot has a machine for itself. */
import type { Lot, Phase } from '../../types.ts';

/** The machine is taken at the start of phase `from` and given back at the end of phase `to`. */
export interface Occupation {
  readonly machine: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Over which phases a lot occupies its machines: each run with the hands just before it (loading) and just after it
 * (unloading). Runs of one machine with nothing between them, or with one phase of hands (the piece is turned over),
 * are one occupation: the piece stays where it is.
 */
export function occupationsOf(phases: readonly Phase[]): readonly Occupation[] {
  const occupations: Occupation[] = [];
  phases.forEach((phase, i) => {
    if (phase.kind !== 'run') return;
    const from = phases[i - 1]?.kind === 'hands' ? i - 1 : i;
    const to = phases[i + 1]?.kind === 'hands' ? i + 1 : i;
    const before = occupations.at(-1);
    const stays = before?.machine === phase.machine && (before.to === from || before.to === i - 1);
    if (stays) occupations[occupations.length - 1] = { ...before, to };
    else occupations.push({ machine: phase.machine, from, to });
  });
  return occupations;
}

/** Whether a lot under way keeps its machine or its place beyond what it is in, until somebody ends it. */
export function keepsUntilItsEnd({ phases, station }: Pick<Lot, 'phases' | 'station'>): boolean {
  return station !== null || occupationsOf(phases).some(({ from, to }) => from === 0 && to > 0);
}
