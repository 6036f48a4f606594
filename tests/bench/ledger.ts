/**
 * `npm run bench -- ledger [fish per panel]`: what the parts of one change of the demo cost (a day with an edit,
 * counts, a pace that changed, lost hours), and what two thousand lines of history cost a page.
 */

import { keptScheduleOf } from '../../server/engine/07-levelling/replan/kept-schedule.ts';
import { attributeRoom, type LedgerSpan, sumParts } from '../../server/engine/11-ledger/index.ts';
import { computePlan } from '../../server/planner/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

const DAY = 1440;
const ROUNDS = 7;
const LINES = 2000;

export default function ledger([fishPerPanel]: string[]): void {
  const now = Math.floor(Date.UTC(2026, 11, 1, 20) / 60_000);
  const { build, log = [] } = tideWall(now);
  const fish = build.parameters?.find((it) => it.name === 'fish_per_panel');
  if (fishPerPanel !== undefined && fish !== undefined) fish.value = Number(fishPerPanel);
  const span = lastDays(build, log, now);
  const plan = milliseconds(() => quick(build, log, now));
  const parts = milliseconds(() => attributeRoom(span));
  const told = attributeRoom(span).length;
  console.log(`one quick forecast ${plan.toFixed(1)} ms; ${told} parts of three days ${parts.toFixed(1)} ms`);
  console.log(`${LINES} lines: ${historyOf().toFixed(2)} ms to read and add up`);
}

const quick = (build: LedgerSpan['before']['build'], log: LedgerSpan['after']['log'], now: number) =>
  computePlan({ build, log, now, depth: 'quick', noChance: true });

function lastDays(build: LedgerSpan['before']['build'], log: LedgerSpan['after']['log'], now: number): LedgerSpan {
  const then = now - 3 * DAY;
  const before = log.filter(({ at }) => Date.parse(at) <= then * 60_000);
  const first = quick(build, before, then);
  const edited = { ...build, confidence: 0.95 };
  const room = quick(edited, log, now).room.readyBy.clock!;
  return {
    before: { build, log: before, now: then, room: first.room.readyBy.clock! },
    edits: [{ build: edited, log, now: now - 60, edit: 2, who: 'maker' }],
    after: { log, now, room },
    former: keptScheduleOf(first),
  };
}

function historyOf(): number {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  const store = createStore(db.value);
  const { build } = tideWall(0);
  const { key } = store.builds.create(build, {
    savedAt: '2026-12-01T20:00:00Z',
    who: 'maker',
    cause: { code: 'made' },
  });
  const cause = [{ code: 'logged', kind: 'done', n: 12 }] as const;
  const turn = { revision: 1, logSeq: 0, cause, who: 'Ana', readyAt: 0, roomMinutes: 0, chance: 0.5 };
  const kept = { forecast: {} as never, revision: 1, logSeq: 0, computedAt: 0, depth: 'deep' } as const;
  store.together(() => {
    for (let i = 1; i <= LINES; i++) {
      store.forecasts.keep(key, kept, { ...turn, computedAt: i });
      store.forecasts.attribute(key, i, [
        { kind: 'pace', subject: 'sand-fish', who: null, minutes: -3 },
        { kind: 'counted', subject: null, who: null, minutes: 20 },
        { kind: 'time', subject: null, who: null, minutes: -30 },
      ]);
    }
  });
  const taken = milliseconds(() => sumParts(store.forecasts.history(key).flatMap(({ parts }) => parts ?? [])));
  store.close();
  return taken;
}

/** The median of some rounds, after two to warm up. */
function milliseconds(run: () => unknown): number {
  for (let i = 0; i < 2; i++) run();
  const taken = Array.from({ length: ROUNDS }, () => {
    const begun = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1000;
  });
  return taken.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)]!;
}
