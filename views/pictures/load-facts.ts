/** How much of each person's and machine's hours the plan asks for, day by day. */
import type { DaySheet, Forecast } from '../../server/model/index.ts';

export interface LoadDay {
  readonly start: number;
  readonly plannedMinutes: number;
  readonly thereMinutes: number;
}

export interface LoadRow {
  readonly key: string;
  readonly name: string;
  readonly kind: 'person' | 'machine';
  /** Machines alike. */
  readonly count: number;
  readonly days: readonly LoadDay[];
}

/** Fewer minutes to spare than that: a full day. */
const TO_SPARE = 15;
const MOST_DAYS = 45;

/**
 * People first, then machines, alike ones together, by the hours that each has from now on. What a person does in two
 * places at once is not counted twice. A machine that runs on beyond its hours was loaded before: it is there as long.
 */
export function loadRows({ days, now }: Pick<Forecast, 'days' | 'now'>): LoadRow[] {
  const rows = new Map<string, { row: Omit<LoadRow, 'days'>; days: LoadDay[] }>();
  const put = (row: Omit<LoadRow, 'days'>, day: LoadDay): void => {
    const there = rows.get(row.key) ?? { row, days: [] };
    rows.set(row.key, there);
    there.days.push(day);
  };
  for (const { start, end, people, machines } of days.slice(0, MOST_DAYS)) {
    const from = Math.max(start, now);
    const planned = ({ spells }: DaySheet['people' | 'machines'][number]): number =>
      minutesOf(
        spells.map((one) => [one.start, one.finish] as const),
        from,
        end,
      );
    for (const person of people) {
      const { id, name, open } = person;
      const day = { start, plannedMinutes: planned(person), thereMinutes: minutesOf(open, from, end) };
      put({ key: `person ${id}`, name, kind: 'person', count: 1 }, day);
    }
    for (const id of new Set(machines.map((machine) => machine.id))) {
      const alike = machines.filter((machine) => machine.id === id);
      const sum = (of: (machine: (typeof alike)[number]) => number): number =>
        alike.reduce((minutes, machine) => minutes + of(machine), 0);
      const plannedMinutes = sum(planned);
      const thereMinutes = Math.max(
        sum(({ open }) => open),
        plannedMinutes,
      );
      put(
        { key: `machine ${id}`, name: alike[0]!.name, kind: 'machine', count: alike.length },
        { start, plannedMinutes, thereMinutes },
      );
    }
  }
  return [...rows.values()].map(({ row, days: ofRow }) => ({ ...row, days: ofRow }));
}

/** Whether a day has no quarter of an hour to spare. */
export function isFull({ plannedMinutes, thereMinutes }: LoadDay): boolean {
  return plannedMinutes > 0 && thereMinutes - plannedMinutes < TO_SPARE;
}

/** Minutes of [from, to) that lie in one of the spans at least. */
function minutesOf(spans: readonly (readonly [number, number])[], from: number, to: number): number {
  let [sum, at] = [0, from];
  for (const [start, finish] of spans.toSorted((a, b) => a[0] - b[0])) {
    const [first, last] = [Math.max(start, at), Math.min(finish, to)];
    if (last <= first) continue;
    sum += last - first;
    at = last;
  }
  return sum;
}
