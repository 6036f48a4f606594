/** At which instants of its past a build is looked at again, where a log was there before the first forecast. */
import type { Build, LogEntry } from '../../model/index.ts';
import {
  type Day,
  dayAt,
  daysBetween,
  intervalsOf,
  OLDEST_ENTRY_MINUTES,
  readWall,
  surroundingsOf,
} from '../calendar/index.ts';
import type { Instant } from '../types.ts';

/** Looks at most; the last days come before others. */
const MOST = 40;
const LAST_DAYS = 8;

/**
 * Instants before `until`, in order: just before anything had happened (the start of the build, unless something was
 * logged before it), then the end of each day on which anybody works or anything was logged: the last working minute,
 * or the last entry where that is later. Among many days those with entries are kept, and among too many of those some
 * at equal distances; the last eight are always there. None for an empty log. O(days + log).
 */
export function pastInstants(build: Build, log: readonly Pick<LogEntry, 'at'>[], until: Instant): Instant[] {
  const logged = log
    .flatMap(({ at }) => readWall(at, 'UTC'))
    .flatMap((read) => (read.ok ? [read.value] : []))
    .filter((at) => at < until && at >= until - OLDEST_ENTRY_MINUTES);
  if (logged.length === 0) return [];
  const first = logged.reduce((a, b) => Math.min(a, b)) - 1;
  const surroundings = surroundingsOf(build, until, [], first);
  const begin = Math.max(until - OLDEST_ENTRY_MINUTES, Math.min(surroundings.start ?? first, first));
  const ends = new Map<Day, Instant>();
  const put = (at: Instant): void => {
    const day = dayAt(at, surroundings.zone);
    ends.set(day, Math.max(at, ends.get(day) ?? at));
  };
  const entryDays = new Set(logged.map((at) => dayAt(at, surroundings.zone)));
  for (const [from, to] of workedSpans(intervalsOf(surroundings.working), begin, until, surroundings.zone)) {
    if (to > from) put(to);
  }
  logged.forEach(put);
  const today = dayAt(until, surroundings.zone);
  const days = [...ends].filter(([, at]) => at > begin && at < until).sort(([a], [b]) => a - b);
  const isLast = ([day]: readonly [Day, Instant]): boolean => day > today - LAST_DAYS;
  const withEntries = days.filter((one) => !isLast(one) && entryDays.has(one[0]));
  const others = days.filter((one) => !isLast(one) && !entryDays.has(one[0]));
  const room = MOST - 1 - days.filter(isLast).length;
  const kept = [...thinned(withEntries, room), ...thinned(others, room - withEntries.length), ...days.filter(isLast)];
  return [begin, ...kept.map(([, at]) => at).sort((a, b) => a - b)];
}

/** The working hours between two instants, parted at midnight. */
function workedSpans(
  open: readonly [Instant, Instant][],
  from: Instant,
  to: Instant,
  zone: string,
): [Instant, Instant][] {
  return open
    .map(([opens, closes]): [Instant, Instant] => [Math.max(from, opens), Math.min(to, closes)])
    .flatMap(([opens, closes]) =>
      daysBetween(opens, closes, zone).map(({ start, end }): [Instant, Instant] => [
        Math.max(opens, start),
        Math.min(closes, end - 1),
      ]),
    );
}

/** At most `most` of them, at equal distances. */
function thinned<T>(list: readonly T[], most: number): readonly T[] {
  if (list.length <= most) return list;
  return Array.from({ length: Math.max(0, most) }, (_, i) => list[Math.floor(((i + 0.5) * list.length) / most)]!);
}
