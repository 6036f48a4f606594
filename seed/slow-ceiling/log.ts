/** The log of the Slow Ceiling: eight working evenings before the day on which somebody looks at it. */
import type { LogEntry, NewLogEntry } from '../../server/model/index.ts';
import { type Days, eveningFrom, firmDayFrom, instantOf, weekday } from '../days.ts';

type Told = Omit<NewLogEntry, 'id' | 'at' | 'who'> & {
  /** Working evenings before today. */
  readonly before: number;
  readonly time: string;
  /** By whoever helps on that day, if anybody does. */
  readonly helped?: true;
};

/** Pulleys on a plate. */
const PLATE = 26;
const MAKER = { id: 'sefa', name: 'Sefa' };

/** The entries up to `now` (minutes since the epoch), in the order in which they came. */
export function ceilingLog(days: Days, now: number): LogEntry[] {
  return told(days)
    .map(({ before, time, helped, ...entry }, i) => {
      const day = eveningFrom(days.today, -before);
      const at = instantOf(day, time);
      const by = helped ? helperOn(day) : MAKER;
      const whose = entry.kind === 'began' || entry.kind === 'paused' ? { person: by.id } : {};
      const id = `demo-entry-${String(i + 1).padStart(3, '0')}`;
      return { ...entry, ...whose, id, at, who: by.name, arrived: at, seq: i + 1 };
    })
    .filter((entry) => Date.parse(entry.at) / 60_000 <= now);
}

function helperOn(day: number): typeof MAKER {
  if (weekday(day) === 6) return { id: 'lune', name: 'Lune' };
  return weekday(day) === 2 || weekday(day) === 4 ? { id: 'bram', name: 'Bram' } : MAKER;
}

function told(days: Days): Told[] {
  return [
    { before: 8, time: '18:05', kind: 'ordered', step: 'order-batten', n: 90 },
    { before: 8, time: '18:40', kind: 'ordered', step: 'weld-rails', n: 5 },
    ...plates(8, ['18:50', '21:45', '21:50']),
    { before: 7, time: '18:02', kind: 'done', step: 'print-pulleys', n: PLATE },
    { before: 7, time: '18:10', kind: 'received', step: 'order-batten', n: 90 },
    ...plates(7, ['18:14', '21:08', '21:13'], PLATE - 1, 'came off the bed'),
    ...sitting(7, 'cut-slats', ['18:20', '19:00', '19:40', '20:20', '20:59'], [42, 42, 42, 43]),
    { before: 6, time: '18:02', kind: 'done', step: 'print-pulleys', n: PLATE },
    ...plates(6, ['18:06', '21:00', '21:05']),
    { before: 6, time: '18:10', kind: 'ordered', step: 'order-drive', n: 1 },
    ...sitting(6, 'drill-slats', ['18:15', '18:58', '19:41', '20:22'], [30, 30, 28], 'helped'),
    {
      before: 5,
      time: '18:00',
      kind: 'lost',
      until: instantOf(eveningFrom(days.today, -5), '22:00'),
      reason: 'no power in the yard',
    },
    { before: 4, time: '18:01', kind: 'done', step: 'print-pulleys', n: PLATE },
    ...plates(4, ['18:05', '21:00', '21:04']),
    ...sitting(4, 'sand-slats', ['18:15', '19:01', '19:48', '20:36'], [20, 20, 20]),
    ...rack(4, '21:50', 'oil-once'),
    ...off(3, '18:03', 'oil-once'),
    { before: 3, time: '18:06', kind: 'done', step: 'print-pulleys', n: PLATE },
    ...plates(3, ['18:10', '21:38', '21:43'], PLATE - 2, 'bore too tight'),
    {
      before: 3,
      time: '18:30',
      kind: 'promised',
      step: 'weld-rails',
      until: instantOf(firmDayFrom(days.today, 2), '16:00'),
      reason: 'the coater is behind',
    },
    ...sitting(3, 'drill-slats', ['18:35', '19:04'], [20], 'helped'),
    ...sitting(3, 'sand-slats', ['19:10', '20:00'], [20]),
    ...rack(3, '20:40', 'oil-twice'),
    ...rack(3, '21:25', 'oil-once'),
    ...off(2, '18:02', 'oil-twice'),
    ...off(2, '18:04', 'oil-once'),
    { before: 2, time: '18:08', kind: 'done', step: 'print-pulleys', n: PLATE },
    { before: 2, time: '18:20', kind: 'ordered', step: 'certify-finish', n: 1 },
    ...plates(2, ['18:50', '21:45', '21:50']),
    ...sitting(2, 'sand-slats', ['19:00', '19:50'], [20]),
    { before: 2, time: '19:51', kind: 'scrapped', step: 'sand-slats', n: 1, reason: 'split along the grain' },
    ...sitting(2, 'drill-slats', ['20:20', '20:50'], [20]),
    { before: 1, time: '18:02', kind: 'done', step: 'print-pulleys', n: PLATE },
    ...sitting(1, 'knot-cords', ['18:10', '19:18'], [64], 'helped'),
    ...sitting(1, 'sand-slats', ['19:22', '20:11'], [20]),
    ...rack(1, '20:50', 'oil-twice'),
    ...rack(1, '21:30', 'oil-once'),
    ...plates(1, ['21:50']),
  ];
}

/** Plates of pulleys: loaded, taken off (this many good ones), loaded again. */
function plates(before: number, times: string[], good = PLATE, reason = ''): Told[] {
  const step = 'print-pulleys';
  return times.flatMap((time, i): Told[] => {
    if (i % 2 === 0) return [{ before, time, kind: 'loaded', step, n: PLATE, machine: 'printer' }];
    const done: Told = { before, time, kind: 'done', step, n: good };
    return good === PLATE ? [done] : [done, { before, time, kind: 'scrapped', step, n: PLATE - good, reason }];
  });
}

/** Work at one step from the first time to the last, with a count at each between. */
function sitting(
  before: number,
  step: string,
  [from, ...times]: string[],
  counts: number[],
  helped?: 'helped',
): Told[] {
  const by = helped === undefined ? {} : { helped: true as const };
  return [
    { before, time: from!, kind: 'began', step, ...by },
    ...times.map((time, i): Told => ({ before, time, kind: 'done', step, n: counts[i]!, ...by })),
    { before, time: times.at(-1)!, kind: 'paused', step, ...by },
  ];
}

/** Forty oiled slats go on to a rack. */
function rack(before: number, time: string, step: string): Told[] {
  return [{ before, time, kind: 'loaded', step, n: 40, machine: 'rack' }];
}

/** Forty dry ones come off it. */
function off(before: number, time: string, step: string): Told[] {
  return [{ before, time, kind: 'done', step, n: 40 }];
}
