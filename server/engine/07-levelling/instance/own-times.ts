/** When the lots of an instance begin and end, in one array. */
import type { Instance } from './instance.ts';

/** All starts, then all finishes: `starts` and `finishes` are parts of `times`, which links look into. */
export function ownTimes(times: Int32Array): Pick<Instance, 'times' | 'starts' | 'finishes'> {
  const lots = times.length >> 1;
  return { times, starts: times.subarray(0, lots), finishes: times.subarray(lots) };
}
