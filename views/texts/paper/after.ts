/** The words of After the show: estimated against real, the maker's own shelf, what earlier builds offer. */

import { worded } from '../../../server/model/texts/language.ts';
import { someOf } from '../grammar.ts';

export const afterTexts = worded({
  intro: 'What was estimated beside what was counted, and the figures to begin the next build with.',
  none: 'Nothing has been counted yet.',
  csv: 'Save as a table (CSV)',
  columns: ['What', 'Estimated', 'Real', 'Times', 'From'] as const,
  csvColumns: ['kind', 'id', 'name', 'measure', 'estimated', 'real', 'times', 'from'] as const,
  kinds: {
    hands: 'Hands, minutes a unit',
    run: 'Machines, minutes a load',
    wait: 'Waits, minutes a load',
    gate: 'Gates, share of tries that failed',
    scrap: 'Scrap, share of units',
    lead: 'Suppliers, working days',
  },
  from: {
    hands: (n: string) => someOf(n, 'unit', 'units'),
    run: (n: string) => someOf(n, 'load', 'loads'),
    wait: (n: string) => someOf(n, 'load', 'loads'),
    gate: (n: string) => someOf(n, 'try', 'tries'),
    scrap: (n: string) => someOf(n, 'unit', 'units'),
    lead: (n: string) => someOf(n, 'delivery', 'deliveries'),
  },
  leadNote:
    'For suppliers these are the days that deliveries took on average. The plan counts on them and the estimate together.',
  loadNote:
    'A load is counted when somebody comes to it, never before it is done. So the shorter half of the loads says how long one takes: of two the shorter.',
  notSaid: 'not said',
  shelf: {
    heading: 'Your own shelf',
    note: 'Keep the paces, yields and lead times of this build: the next one offers them where a step, a part or a supplier has the same name.',
    kept: (n: number) => (n === 1 ? '1 figure of this build is kept.' : `${n} figures of this build are kept.`),
    fewest: 'Paces and yields of fewer than five units are left out.',
    keep: (n: number) => (n === 1 ? 'Keep 1 figure' : `Keep ${n} figures`),
    nothing: 'Nothing has been measured often enough to be kept.',
  },
  offers: {
    heading: 'From earlier builds',
    note: 'Measured elsewhere under the same name. Take what fits: another shop, another wood, another hand is slower.',
    none: 'No earlier build has measured anything of the same name.',
    pace: (minutes: string) => `${minutes} min a unit`,
    yield: (share: string) => `${share} come out good`,
    lead: (days: string) => someOf(days, 'working day', 'working days'),
    measured: (build: string, n: string) => `measured in ${build}, from ${n}`,
    present: (now: string) => `here ${now}`,
    take: 'Take it',
    gone: (what: string) => `“${what}” is not offered any more; look at the sheet as it is now.`,
    onLines: (n: number) =>
      n === 1 ? '1 figure of an earlier build fits a name here' : `${n} figures of earlier builds fit names here`,
  },
});
