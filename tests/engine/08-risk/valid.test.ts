import { describe, expect, test } from 'vitest';
import { unchosen } from '../../../server/engine/07-levelling/generate/choices.ts';
import { dependencyOrderOf } from '../../../server/engine/07-levelling/generate/orders.ts';
import { scheduleOf } from '../../../server/engine/07-levelling/generate/schedule.ts';
import { type CompiledForward, choose, compileForward, dispatch } from '../../../server/engine/07-levelling/index.ts';
import { uncertaintyOf } from '../../../server/engine/08-risk/draws.ts';
import { FutureRuns } from '../../../server/engine/08-risk/futures.ts';
import { calendarFrom, totalOpenMinutes } from '../../../server/engine/calendar/index.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Calendar, Phase, Work } from '../../../server/engine/types.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { randomWork } from '../../support/random-work.ts';
import { bench, NOW } from './_bench.ts';

/** The work as it went in a future: its phases take what was drawn. */
function withMinutes(work: Work, minutes: Int32Array): Work {
  let p = 0;
  const drawn = (phase: Phase): Phase => {
    const taken = minutes[p++]!;
    return phase.kind === 'lead' ? phase : { ...phase, minutes: taken };
  };
  return { ...work, lots: work.lots.map((lot) => ({ ...lot, phases: lot.phases.map(drawn) })) };
}

describe('a future is a schedule that the hands and machines can do', () => {
  test('for random builds with drawn minutes, in any order of work', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 30), wide: seed % 2 === 0, begun: seed % 3 === 0 });
      const compiled = compileForward(work);
      const { forward } = compiled;
      const random = new Random(seed);
      const phases = work.lots.flatMap((lot) =>
        lot.phases.map((phase, i) => ({ phase, begun: lot.begunAt !== null && i === 0 })),
      );
      const minutes = Int32Array.from(phases, ({ phase, begun }) => {
        if (phase.kind === 'lead') return 0;
        const mostlyFits = phase.kind === 'demand' || phase.kind === 'run' || (phase.kind === 'hands' && phase.oneGo);
        return begun ? phase.minutes : Math.ceil(phase.minutes * (0.4 + (mostlyFits ? 0.6 : 1.4) * random.unit()));
      });
      const order = dependencyOrderOf(forward);
      for (let i = order.length - 1; i > 0; i--) {
        const j = random.below(i + 1);
        [order[i], order[j]] = [order[j]!, order[i]!];
      }
      for (const passesOver of [false, true]) {
        choose(forward, unchosen(forward, order, passesOver));
        dispatch(compiled, order, minutes, forward);
        const schedule = scheduleOf(compiled, forward, order);
        expect(faultsOf(withMinutes(work, minutes), schedule), `seed ${seed}, ${passesOver}`).toEqual([]);
      }
    }
  });

  test('for a build with machines, scrap, a gate and lost days, as the futures are drawn', () => {
    const part: Step = { id: 'print', name: 'print', part: 'peg', lotSize: 8, phases: [] };
    const steps: Step[] = [
      {
        ...part,
        phases: [
          { kind: 'hands', minutes: 8 },
          { kind: 'run', machine: 'printer', minutes: 150 },
          { kind: 'hands', minutes: 5 },
        ],
      },
      { ...part, id: 'file', name: 'file', phases: [{ kind: 'hands', perUnit: 6 }] },
      {
        ...part,
        id: 'paint',
        name: 'paint',
        phases: [
          { kind: 'hands', minutes: 20 },
          { kind: 'wait', minutes: 90 },
        ],
      },
    ];
    const more: Partial<Build> = {
      people: ['ria', 'tom'].map((id) => ({ id, name: id, hours: 'daily 09:00-12:00 13:00-17:00' })),
      machines: [{ id: 'printer', name: 'printer' }],
      parts: [{ id: 'peg', name: 'peg', source: 'make', count: 60, yield: 0.85 }],
      gates: [
        {
          id: 'look',
          name: 'look',
          after: ['paint'],
          minutes: 45,
          failChance: 0.5,
          sendsBack: [{ step: 'paint', units: 4 }],
        },
      ],
      start: '2026-11-21T09:00',
    };
    const log: LogEntry[] = ['23', '25', '27'].map((day) => {
      return { id: `entry-0${day}`, kind: 'lost', at: `2026-11-${day}T09:00:00Z`, until: `2026-11-${day}T17:00:00Z` };
    });
    const planned = workThrough({ build: bench(steps, more), log, now: NOW }, 'schedules');
    const uncertain = uncertaintyOf(planned, planned.schedule!);
    const { compiled } = uncertain;
    const runs = new FutureRuns(uncertain, 7);
    let lost = 0;
    for (let n = 0; n < 25; n++) {
      runs.run(n);
      const { forward } = compiled;
      const resources = compiled.work.resources.map((resource, r) => {
        const open = forward.ownCalendar[r]! < 0 ? resource.open : hoursIn(forward, forward.ownCalendar[r]!);
        if (totalOpenMinutes(open) < totalOpenMinutes(resource.open)) lost++;
        return { ...resource, open };
      });
      const work = withMinutes({ ...compiled.work, resources }, forward.phaseMinutes);
      expect(faultsOf(work, scheduleOf(compiled, forward, uncertain.activityList)), `future ${n}`).toEqual([]);
    }
    expect(lost).toBeGreaterThan(0);
  });
});

/** A calendar of a problem as it is in this future, without the days that are lost. */
function hoursIn({ calendars }: CompiledForward['forward'], k: number): Calendar {
  const intervals: [number, number][] = [];
  for (let minute = 0; minute < calendars.openMinutes(k); minute++) {
    const at = calendars.startOf(k, minute);
    if (intervals.at(-1)?.[1] === at) intervals.at(-1)![1]++;
    else intervals.push([at, at + 1]);
  }
  return calendarFrom(intervals);
}

describe('common random numbers', () => {
  /** By step, the factor that future n has: its drawn minutes against those planned. */
  const drawnBy = (build: Build, n: number) => {
    const planned = workThrough({ build, log: [], now: NOW }, 'schedules');
    const { drawnMinutes } = new FutureRuns(uncertaintyOf(planned, planned.schedule!), 3).run(n);
    return new Map(planned.plans.map(({ id }, step) => [id, drawnMinutes[step]!]));
  };
  const carve: Step = { id: 'carve', name: 'carve', phases: [{ kind: 'hands', minutes: 900 }] };
  const glue: Step = { id: 'glue', name: 'glue', phases: [{ kind: 'hands', minutes: 300 }] };
  const sand: Step = { id: 'sand', name: 'sand', phases: [{ kind: 'hands', minutes: 500 }] };

  test('give a step the same draws whatever steps, people and hours there are beside it', () => {
    const plain = bench([carve, glue]);
    const second = { id: 'tom', name: 'Tom', hours: 'sat 09:00-17:00' };
    const others = [
      bench([carve, glue, sand]),
      bench([sand, carve, glue]),
      bench([carve, glue], { people: [...plain.people!, second] }),
      bench([carve, glue], { event: '2026-12-20T17:00' }),
    ];
    for (const n of [0, 1, 77]) {
      const before = drawnBy(plain, n);
      for (const other of others) {
        const after = drawnBy(other, n);
        expect([after.get('carve'), after.get('glue')]).toEqual([before.get('carve'), before.get('glue')]);
      }
    }
  });

  test('give a step of more units the same luck in the units that it had', () => {
    const turned = (count: number) =>
      bench([{ id: 'turn', name: 'turn', part: 'peg', lotSize: 5, phases: [{ kind: 'hands', perUnit: 60 }] }], {
        parts: [{ id: 'peg', name: 'peg', source: 'make', count }],
      });
    const lots = (count: number, n: number) => {
      const planned = workThrough({ build: turned(count), log: [], now: NOW }, 'schedules');
      const uncertain = uncertaintyOf(planned, planned.schedule!);
      new FutureRuns(uncertain, 3).run(n);
      return [...uncertain.compiled.forward.phaseMinutes].slice(0, 4);
    };
    for (const n of [0, 5, 123]) expect(lots(25, n)).toEqual(lots(20, n));
  });
});
