/**
 * What a schedule costs: `npm run -s bench -- levelling [--lots N] [--seed K]`. A build with calendars, three people
 * and two kinds of machines is dispatched again and again, beside a bare loop over the same arrays that only adds
 * minutes to the latest of its predecessors and its first resource. Then the same build is levelled again as after a
 * tap, by schedules and by time, and a textbook work of 120 lots with four pools is levelled with everything the search
 * costs, beside bare passes of the generator. Processor time, best of five.
 */
import { generateSerial } from '../../server/engine/07-levelling/generate/generate.ts';
import { compile, dispatch, level } from '../../server/engine/07-levelling/index.ts';
import { Random } from '../../server/engine/numbers/random.ts';
import type { Work } from '../../server/engine/types.ts';
import { judged } from '../support/check-schedule.ts';
import { previousScheduleOf } from '../support/previous-plan.ts';
import { randomWork } from '../support/random-work.ts';
import { textbookWork } from '../support/textbook-work.ts';

const PASSES = 1000;

export default function levelling(args: string[]): void {
  const number = (name: string, otherwise: number) => {
    const at = args.indexOf(`--${name}`);
    return at < 0 ? otherwise : Number(args[at + 1]);
  };
  const lots = number('lots', 300);
  const seed = number('seed', 1);
  const work = randomWork({ seed, lots, simple: true, handsOnly: true });
  const compiled = compile(work);
  const first = level(work, { seed, schedules: 200 }, compiled);
  const { activityList } = judged(work, first.schedule);
  const minutes = compiled.forward.phaseMinutes;
  const dispatched = best(() => {
    for (let i = 0; i < PASSES; i++) dispatch(compiled, activityList, minutes, compiled.forward);
  });
  const bare = best(bareLoop(work, activityList));
  const perLot = (milliseconds: number) => (milliseconds * 1e6) / PASSES / lots;
  console.log(
    `${lots} lots with calendars: a dispatch ${perLot(dispatched).toFixed(0)} ns a lot; adding minutes alone, without calendars, choice or gaps, ${perLot(bare).toFixed(0)} ns a lot`,
  );

  const previous = previousScheduleOf(work, first.schedule);
  let anew = first;
  const bySchedules = best(() => {
    anew = level(work, { seed, schedules: 2000, previous });
  });
  judged(work, anew.schedule);
  console.log(
    `${lots} lots levelled anew with at most 2,000 schedules: ${bySchedules.toFixed(0)} ms for ${anew.schedules}, compiling included`,
  );
  const began = performance.now();
  const byTime = level(work, { seed, milliseconds: 80, clock: () => performance.now(), previous });
  const inAll = performance.now() - began;
  judged(work, byTime.schedule);
  console.log(
    `${lots} lots levelled anew in 80 ms of search: ${byTime.schedules} schedules, ${inAll.toFixed(0)} ms in all`,
  );

  const textbook = textbook120(seed);
  const plain = compile(textbook);
  let levelled = level(textbook, { seed, schedules: 1 }, plain);
  const given = levelled.schedule.activityList;
  const passes = best(() => {
    for (let i = 0; i < 20_000; i++) generateSerial(plain.forward, given);
  });
  const searched = best(() => {
    levelled = level(textbook, { seed, schedules: 20_000 }, plain);
  });
  judged(textbook, levelled.schedule);
  const { schedules } = levelled;
  console.log(
    `120 lots, four pools: ${((searched * 1000) / schedules).toFixed(1)} microseconds a schedule with everything, ${((searched * 1e6) / schedules / 120).toFixed(0)} ns a lot; ` +
      `bare generation over the same arrays ${((passes * 1e6) / 20_000 / 120).toFixed(0)} ns a lot (${schedules} schedules)`,
  );
  const memory = process.memoryUsage();
  console.log(
    `memory: ${(memory.heapUsed / 2 ** 20).toFixed(0)} MB on the heap, ${(memory.arrayBuffers / 2 ** 20).toFixed(0)} MB in arrays, ${(memory.rss / 2 ** 20).toFixed(0)} MB of the process`,
  );
}

function best(run: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 5; i++) {
    const before = process.cpuUsage();
    run();
    const used = process.cpuUsage(before);
    least = Math.min(least, (used.user + used.system) / 1000);
  }
  return least;
}

/** The cheapest thing that could be called generating: no calendars, no choice, no gaps filled. */
function bareLoop(work: Work, order: Int32Array): () => number {
  const { phaseFirst, phaseMinutes, phaseMachine, linkFirst, linkFrom } = compile(work).forward;
  const finishes = new Int32Array(work.lots.length);
  const freeAt = new Int32Array(work.resources.length);
  const person = new Int32Array(phaseMinutes.length).fill(-1);
  work.lots.forEach((lot, l) => {
    lot.phases.forEach((phase, i) => {
      if (phase.kind === 'hands' || (phase.kind === 'run' && phase.attended))
        person[phaseFirst[l]! + i] = phase.eligible[0]!;
    });
  });
  return () => {
    let latest = 0;
    for (let pass = 0; pass < PASSES; pass++) {
      freeAt.fill(0);
      for (let k = 0; k < order.length; k++) {
        const lot = order[k]!;
        let at = 0;
        for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) at = Math.max(at, finishes[linkFrom[i]!]!);
        for (let p = phaseFirst[lot]!; p < phaseFirst[lot + 1]!; p++) {
          const r = phaseMachine[p]! >= 0 ? phaseMachine[p]! : person[p]!;
          if (r >= 0) at = Math.max(at, freeAt[r]!);
          at += phaseMinutes[p]!;
          if (r >= 0) freeAt[r] = at;
        }
        finishes[lot] = at;
        if (at > latest) latest = at;
      }
    }
    return latest;
  };
}

/** An invented textbook work: 120 lots of 1 to 10 ticks, four pools, up to three successors each. */
function textbook120(seed: number): Work {
  const random = new Random(seed);
  const capacities = [14, 18, 12, 16];
  return textbookWork(
    capacities,
    Array.from({ length: 120 }, (_, i) => ({
      minutes: 1 + random.below(10),
      demands: capacities.map(() => (random.below(4) === 0 ? 0 : 1 + random.below(9))),
      successors: [...new Set(Array.from({ length: 1 + random.below(3) }, () => i + 1 + random.below(20)))].filter(
        (to) => to < 120,
      ),
    })),
  );
}
