/** Work that no plan can hold: more people than may do it, more of a pool than there is. */
import type { Work } from '../../types.ts';
import { crewsOf } from './crews.ts';

/** Throws RangeError where a phase needs more people than are eligible, or a demand more than its pool has. */
export function refuseImpossible(work: Work): void {
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      if (phase.kind === 'demand') {
        for (const { resource, amount } of phase.demands) {
          const pool = work.resources[resource]!;
          if (amount > pool.capacity) {
            throw new RangeError(
              `Lot ${lot.id} asks for ${amount} of ${pool.name}, of which there are ${pool.capacity}.`,
            );
          }
        }
      } else if ((phase.kind === 'hands' || (phase.kind === 'run' && phase.attended)) && phase.minutes > 0) {
        if (crewsOf(phase.eligible, phase.people, lot.pinnedPeople).length === 0) {
          throw new RangeError(`Lot ${lot.id} needs ${phase.people} people; ${phase.eligible.length} may do it.`);
        }
      }
    }
  }
}
