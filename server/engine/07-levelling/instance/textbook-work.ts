/** Whether a work is one of the textbooks: demands on pools that never close, one after the other. */
import type { Calendar, Work } from '../../types.ts';

/** Whether a work asks for nothing but demands and waits from now on, of pools that never close meanwhile. O(work). */
export function isTextbookWork(work: Work): boolean {
  const total = work.lots.reduce(
    (sum, lot) => sum + lot.phases.reduce((s, p) => s + (p.kind === 'lead' ? 0 : p.minutes), 0),
    0,
  );
  const textbook = work.lots.every(
    (lot) =>
      lot.phases.length <= 1 &&
      lot.phases.every((phase) => phase.kind === 'demand' || phase.kind === 'wait') &&
      lot.release <= work.now &&
      lot.begunAt === null &&
      lot.pinnedStart === null &&
      lot.station === null &&
      !lot.onSite,
  );
  return (
    textbook &&
    work.links.every((link) => link.type === 'finish-start' && link.lagMinutes === 0) &&
    work.resources.every(
      (resource) => resource.kind !== 'pool' || isAlwaysOpen(resource.open, work.now, work.now + total),
    )
  );
}

/** The greatest common divisor of all minutes of a work, at least 1; leads count as one minute. */
export function commonTick(work: Work): number {
  let tick = 0;
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      let minutes = phase.kind === 'lead' ? 1 : phase.minutes;
      while (minutes > 0) [tick, minutes] = [minutes, tick % minutes];
    }
  }
  return Math.max(1, tick);
}

function isAlwaysOpen(open: Calendar, from: number, until: number): boolean {
  return open.opens.length === 1 && open.opens[0]! <= from && open.closes[0]! >= until;
}
