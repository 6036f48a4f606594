/** Which phase of a step goes on by itself once it is begun. */
import type { OpenStart } from '../log/index.ts';

/**
 * The number of the phase that a load or an order is in: the run, the first wait that has more work behind it (or of a
 * step that does nothing but wait, its wait), the lead time; -1: none.
 *
 *     phaseBegun([{ kind: 'hands' }, { kind: 'wait' }, { kind: 'hands' }], { kind: 'loaded' }) // 1
 */
export function phaseBegun(phases: readonly { readonly kind: string }[], { kind }: Pick<OpenStart, 'kind'>): number {
  if (kind === 'ordered') return phases.findIndex((phase) => phase.kind === 'lead');
  const run = phases.findIndex((phase) => phase.kind === 'run');
  if (run >= 0) return run;
  const last = phases.findLastIndex((phase) => phase.kind !== 'wait');
  return phases.findIndex((phase, i) => phase.kind === 'wait' && (i < last || last < 0));
}
