/**
 * `npm run bench -- risk [futures]`: futures of a 300-lot build with calendars, three people and two machines, one
 * thread. Prints the whole of `riskOf`, its parts (drawing and dispatching as futures do it, dispatching alone in the
 * order of the sheet, a pass with hands and machines unlimited) in nanoseconds a lot placed, beside two bare loops over
 * the same arrays, and the memory. Times are processor time.
 */

import { generateUnlimited } from '../../server/engine/07-levelling/generate/generate.ts';
import { dependencyOrderOf } from '../../server/engine/07-levelling/generate/orders.ts';
import { compile, dispatch } from '../../server/engine/07-levelling/index.ts';
import type { Instance } from '../../server/engine/07-levelling/instance/instance.ts';
import { uncertaintyOf } from '../../server/engine/08-risk/draws.ts';
import { riskOf } from '../../server/engine/08-risk/index.ts';
import { worldsOf } from '../../server/engine/08-risk/worlds.ts';
import { workThrough } from '../../server/engine/stages/index.ts';
import { threeHundredLots } from './parts/build.ts';

const NOW = Math.floor(Date.UTC(2026, 10, 1, 9) / 60_000);

/** Processor time, which a busy machine does not stretch. */
const cpuMs = (): number => process.cpuUsage().user / 1000;

export default function bench([asked]: string[]): void {
  const futures = Number(asked ?? 2000);
  const planned = workThrough(
    { build: threeHundredLots(), log: [], now: NOW, levelling: { seed: 1, schedules: 1 } },
    'schedules',
  );
  const schedule = planned.schedule!;
  const uncertain = uncertaintyOf(planned, schedule);
  const lots = uncertain.compiled.work.lots.length;
  console.log(
    `${planned.work.lots.length} lots, ${lots - planned.work.lots.length} stretches of lost time, ${futures} futures`,
  );
  const [world] = worldsOf(planned, schedule, 1);
  const perLot = (title: string, once: (n: number) => void): number => {
    for (let n = 0; n < 300; n++) once(n);
    const begin = cpuMs();
    for (let n = 0; n < futures; n++) once(n);
    const ms = cpuMs() - begin;
    console.log(
      `${title.padEnd(34)} ${ms.toFixed(0).padStart(6)} ms ${((ms * 1e6) / futures / lots).toFixed(0).padStart(6)} ns a lot`,
    );
    return ms;
  };
  perLot('drawn and dispatched', (n) => world!.run(n));
  const bare = compile(planned.work);
  const minutes = bare.forward.phaseMinutes.slice();
  const dispatched = perLot('dispatched as planned', () =>
    dispatch(bare, schedule.activityList, minutes, bare.forward),
  );
  const plain = perLot('the same without calendars or gaps', bareLoop(bare.forward, schedule.activityList));
  perLot('adding minutes along the links', forwardPass(bare.forward, schedule.activityList));
  const order = dependencyOrderOf(bare.forward);
  perLot('hands and machines unlimited', () => generateUnlimited(bare.forward, order));
  console.log(
    `  dispatching in bare loops: ${(dispatched / plain).toFixed(1)} (the loop chooses who is free first, and looks for no gap)`,
  );
  for (const pass of ['first', 'second']) {
    const begin = cpuMs();
    const found = riskOf(planned, { seed: 1, futures, exactness: 0 })!;
    const ms = cpuMs() - begin;
    console.log(
      `whole risk, ${pass} time: ${ms.toFixed(0)} ms, chance ${found.readyBy.chance} ± ${found.readyBy.error.toFixed(4)}`,
    );
  }
  console.log(`memory ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MB`);
}

/**
 * Generation without calendars, with the same answer (who, from when to when, by lot and by phase): each phase by
 * whoever of its people, and on its machine, is free first; nothing is put into a gap.
 */
function bareLoop(instance: Instance, order: Int32Array): () => void {
  const { phaseFirst, phaseMinutes, crewRange, memberFirst, members, phaseMachine, linkFirst, linkFrom } = instance;
  const freeAt = new Int32Array(100);
  const [starts, finishes] = [new Int32Array(instance.lots), new Int32Array(instance.lots)];
  const [phaseStarts, phaseFinishes, phaseCrew] = [0, 1, 2].map(() => new Int32Array(phaseMinutes.length)) as [
    Int32Array,
    Int32Array,
    Int32Array,
  ];
  return () => {
    freeAt.fill(0);
    for (let k = 0; k < order.length; k++) {
      const lot = order[k]!;
      let at = instance.earliest[lot]!;
      for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) at = Math.max(at, finishes[linkFrom[i]!]!);
      for (let p = phaseFirst[lot]!; p < phaseFirst[lot + 1]!; p++) {
        let [best, who] = [-1, -1];
        for (let crew = crewRange[2 * p]!; crew < crewRange[2 * p + 1]!; crew++) {
          const person = members[memberFirst[crew]!]!;
          if (best < 0 || freeAt[person]! < freeAt[best]!) [best, who] = [person, crew];
        }
        if (best >= 0) at = Math.max(at, freeAt[best]!);
        const machine = phaseMachine[p]!;
        if (machine >= 0) at = Math.max(at, freeAt[machine]!);
        if (p === phaseFirst[lot]!) starts[lot] = at;
        phaseStarts[p] = at;
        at += phaseMinutes[p]!;
        phaseFinishes[p] = at;
        phaseCrew[p] = who;
        if (best >= 0) freeAt[best] = at;
        if (machine >= 0) freeAt[machine] = at;
      }
      finishes[lot] = at;
    }
  };
}

/** The forward pass alone: each lot after its links, neither people nor calendars asked. */
function forwardPass(instance: Instance, order: Int32Array): () => void {
  const { phaseFirst, phaseMinutes, linkFirst, linkFrom } = instance;
  const finishes = new Float64Array(instance.lots);
  return () => {
    for (let k = 0; k < order.length; k++) {
      const lot = order[k]!;
      let at = instance.earliest[lot]!;
      for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) at = Math.max(at, finishes[linkFrom[i]!]!);
      for (let p = phaseFirst[lot]!; p < phaseFirst[lot + 1]!; p++) at += phaseMinutes[p]!;
      finishes[lot] = at;
    }
  };
}
