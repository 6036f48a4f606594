/** Who is at what when, for day sheets and working hours. */
import type { DaySpell } from '../../model/index.ts';
import { clipOpenTime, intersectionOf, intervalsOf } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Phase, Placement } from '../types.ts';
import { placementsByLot } from './lots.ts';

/** Who is at what when: by person's resource, and by machine resource and unit (`resource/unit`). */
export interface Spells {
  readonly people: Map<number, DaySpell[]>;
  readonly machines: Map<string, DaySpell[]>;
}

/** The spells of work in the schedule, people's pauses left out. */
export function spellsOf(planned: Planned): Spells {
  const { work, plans } = planned;
  const spells: Spells = { people: new Map(), machines: new Map() };
  const add = <K>(map: Map<K, DaySpell[]>, key: K, spell: DaySpell): void => {
    const list = map.get(key) ?? [];
    map.set(key, list);
    list.push(spell);
  };
  for (const [index, placements] of placementsByLot(planned)) {
    const lot = work.lots[index]!;
    const plan = plans[lot.step]!;
    for (const placement of placements) {
      const phase = lot.phases[placement.phase]!;
      const base = {
        lot: lot.id,
        step: plan.id,
        set: lot.set,
        units: lot.lastUnit - lot.firstUnit + 1,
        hazards: plan.hazards,
        ...(lot.pin === undefined ? {} : { pinned: true }),
      };
      const kind = spellKind(lot.phases, placement.phase);
      for (const person of placement.people) {
        for (const [start, finish] of workedBy(planned, phase, placement, person)) {
          add(spells.people, person, { ...base, kind, start, finish });
        }
      }
      if (phase.kind === 'run' && placement.machine !== null) {
        add(spells.machines, `${placement.machine}/${placement.machineUnit ?? 0}`, {
          ...base,
          kind: 'run',
          start: placement.start,
          finish: placement.finish,
        });
      }
    }
  }
  return spells;
}

/** A person's minutes of a placement: those in which all who do it are there. */
function workedBy({ work }: Planned, phase: Phase, placement: Placement, person: number): [number, number][] {
  if (phase.kind !== 'hands') return [[placement.start, placement.finish]];
  const crew = placement.people.length === 0 ? [person] : placement.people;
  const there = crew.map((member) => clipOpenTime(work.resources[member]!.open, placement.start, placement.finish));
  return intervalsOf(there.length === 1 ? there[0]! : intersectionOf(there));
}

function spellKind(phases: readonly Phase[], index: number): DaySpell['kind'] {
  if (phases[index]!.kind === 'run') return 'run';
  if (phases[index + 1]?.kind === 'run') return 'load';
  return phases[index - 1]?.kind === 'run' ? 'unload' : 'hands';
}
