import { describe, expect, test } from 'vitest';
import { level } from '../../../server/engine/07-levelling/index.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { Lot, Phase, Resource, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';

/** Eight days of 96 minutes, so that every begin can be tried. */
const DAY = 96;
const MINUTES = 8 * DAY;

interface Part {
  readonly kind: 'hands' | 'one go' | 'attended' | 'machine' | 'wait';
  readonly minutes: number;
  readonly people: number;
  readonly may: readonly number[];
}

interface Scene {
  /** By person, and last the machine: whether it is there in each minute. */
  readonly there: readonly Uint8Array[];
  readonly parts: readonly Part[];
}

function randomScene(seed: number): Scene {
  const random = new Random(seed);
  const people = 2 + random.below(2);
  const there = Array.from({ length: people + 1 }, () => hoursOf(random));
  const kinds = ['hands', 'hands', 'hands', 'one go', 'one go', 'attended', 'machine', 'wait'] as const;
  const parts = Array.from({ length: 2 + random.below(3) }, (): Part => {
    const kind = kinds[random.below(kinds.length)]!;
    const all = Array.from({ length: people }, (_, i) => i);
    const may = random.below(3) === 0 ? [random.below(people)] : all;
    const crew = kind === 'hands' && may.length > 1 && random.below(5) === 0 ? 2 : 1;
    return { kind, minutes: 1 + random.below(kind === 'hands' ? 12 : 8), people: crew, may };
  });
  return { there, parts };
}

/** Some hours on some days, with a break on some of them. */
function hoursOf(random: Random): Uint8Array {
  const open = new Uint8Array(MINUTES);
  const from = 24 + random.below(40);
  const to = from + 12 + random.below(28);
  const pause = random.below(2) === 0 ? from + 6 + random.below(6) : -1;
  const every = 1 + random.below(3);
  const shift = random.below(3);
  for (let day = 0; day < 8; day++) {
    if ((day + shift) % every !== 0) continue;
    for (let q = from; q < Math.min(to, DAY); q++) if (q < pause || q >= pause + 4) open[day * DAY + q] = 1;
  }
  return open;
}

/** The least finish there is, by trying every crew and every begin; more than MINUTES where there is none. */
function leastFinish({ there, parts }: Scene): number {
  const machine = there[there.length - 1]!;
  const isOpen = (all: readonly Uint8Array[], q: number) => all.every((open) => open[q] === 1);
  let least = MINUTES + 1;
  const place = (i: number, ended: number): void => {
    if (ended >= least) return;
    const part = parts[i];
    if (part === undefined) {
      least = ended;
      return;
    }
    const before = parts[i - 1];
    const byHand = part.kind !== 'machine' && part.kind !== 'wait';
    const isFree =
      before === undefined ||
      (byHand && (before.kind === 'wait' || before.kind === 'machine' || before.kind === 'attended'));
    for (const crew of byHand ? crewsOf(part) : [[]]) {
      const all = crew.map((person) => there[person]!);
      if (part.kind === 'attended' || part.kind === 'machine') all.push(machine);
      let begin = ended;
      // Hands that follow hands may begin after a pause of their own people, and then at once.
      if (!isFree && before.kind !== 'wait' && (part.kind === 'hands' || part.kind === 'one go')) {
        while (begin < MINUTES && !isOpen(all, begin)) begin++;
      }
      for (; begin < least; begin++) {
        const finish = finishOf(part, all, begin, isOpen);
        if (finish !== null) place(i + 1, finish);
        if (!isFree) break;
      }
    }
  };
  place(0, 0);
  return least;
}

function finishOf(
  { kind, minutes }: Part,
  all: readonly Uint8Array[],
  begin: number,
  isOpen: (all: readonly Uint8Array[], q: number) => boolean,
): number | null {
  if (kind === 'wait') return begin + minutes;
  if (!isOpen(all, begin)) return null;
  let left = minutes;
  for (let q = begin; q < MINUTES; q++) {
    if (isOpen(all, q)) left--;
    else if (kind !== 'hands') return null;
    if (left === 0) return q + 1;
  }
  return null;
}

function crewsOf({ may, people }: Part): number[][] {
  if (people === 1) return may.map((person) => [person]);
  return may.flatMap((a, i) => may.slice(i + 1).map((b) => [a, b]));
}

function workOf({ there, parts }: Scene): Work {
  const machine = there.length - 1;
  const resources = there.map((open, r): Resource => {
    const intervals: [number, number][] = [];
    open.forEach((is, q) => {
      if (is === 0) return;
      const last = intervals.at(-1);
      if (last?.[1] === q) last[1] += 1;
      else intervals.push([q, q + 1]);
    });
    const kind = r === machine ? 'machine' : 'person';
    return { id: `${kind} ${r}`, name: `${kind} ${r}`, kind, capacity: 1, open: calendarFrom(intervals) };
  });
  const phases = parts.map(({ kind, minutes, people, may }): Phase => {
    const { open } = resources[0]!;
    if (kind === 'wait') return { kind, minutes };
    if (kind === 'hands' || kind === 'one go')
      return { kind: 'hands', minutes, people, eligible: may, oneGo: kind === 'one go', open };
    const attended = kind === 'attended';
    return { kind: 'run', minutes, machine, attended, people: attended ? 1 : 0, eligible: attended ? may : [], open };
  });
  const end = MINUTES;
  const lot: Lot = {
    id: 'lot',
    step: 0,
    set: null,
    number: 1,
    firstUnit: 1,
    lastUnit: 1,
    phases,
    release: 0,
    deadline: end,
    begunAt: null,
    pinnedStart: null,
    pinnedPeople: null,
    station: null,
    onSite: false,
  };
  return { now: 0, readyBy: end, loadIn: null, event: end, resources, lots: [lot], links: [] };
}

describe('one lot of people with unequal hours', () => {
  test('ends as early as any crews and any begins let it, and no bound lies above that', () => {
    let [placed, proved] = [0, 0];
    for (let seed = 1; seed <= 400; seed++) {
      const scene = randomScene(seed);
      const best = leastFinish(scene);
      if (best > MINUTES) continue;
      placed++;
      const work = workOf(scene);
      const { schedule, bound, verdict } = level(work, { seed: 1, schedules: 20 });
      expect(faultsOf(work, schedule), `seed ${seed}`).toEqual([]);
      expect(bound.readyAt, `seed ${seed}: bound`).toBeLessThanOrEqual(best);
      expect(schedule.finishAt, `seed ${seed}`).toBe(best);
      if (verdict === 'proved-best') proved++;
    }
    expect(placed).toBeGreaterThan(200);
    // The bound says so itself, or it would be of no use.
    expect(proved / placed).toBeGreaterThan(0.8);
  });
});
