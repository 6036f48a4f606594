/** The levers that a build really has. */
import type { Planned } from '../stages/index.ts';
import { peopleLevers } from './people-levers.ts';
import { expressLevers, fewerLevers, machineLevers, proofLevers, wayLevers } from './plan-levers.ts';
import type { Proposed } from './proposed.ts';
import { stepLevers } from './step-levers.ts';

/** All of them, none tried yet: each a list of changes to the build as it is. O(steps x people). */
export function proposeLevers(planned: Planned): Proposed[] {
  return [
    ...peopleLevers(planned),
    ...machineLevers(planned),
    ...wayLevers(planned),
    ...expressLevers(planned),
    ...fewerLevers(planned),
    ...proofLevers(planned),
    ...stepLevers(planned),
  ];
}
