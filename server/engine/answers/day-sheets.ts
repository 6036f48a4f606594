import type { DaySheet, DaySpell, ForecastDecision, ForecastOrder } from '../../model/index.ts';
import { dateText, daysBetween } from '../clock.ts';
import { clipOpenTime, intersectionOf, intervalsOf } from '../open-time.ts';
import type { Phase, Placement } from '../types.ts';
import { placementsByLot } from './lots.ts';
import type { Planned } from './planned.ts';

const MOST_DAYS = 60;

/** A sheet for each day from now to the event: who does what when, when machines are loaded, what to order and to decide. */
export function daySheetsAnswer(
  planned: Planned,
  orders: readonly ForecastOrder[],
  decisions: readonly ForecastDecision[],
): DaySheet[] {
  const { setting, now } = planned;
  const spells = spellsOf(planned);
  const last = Math.max(setting.event, planned.schedule?.finishAt ?? setting.event) + 1;
  const days = daysBetween(now, last, setting.zone).slice(0, MOST_DAYS);
  return days.map(({ day, start, end }) => {
    const within = (list: readonly DaySpell[]): DaySpell[] =>
      list
        .filter((spell) => spell.start < end && spell.finish > start)
        .map((spell) => ({ ...spell, start: Math.max(spell.start, start), finish: Math.min(spell.finish, end) }))
        .sort((a, b) => a.start - b.start);
    const on = (at: number): boolean => at >= start && at < end;
    return {
      date: dateText(day),
      start,
      end,
      people: [...setting.people.values()].map((person) => ({
        id: person.id,
        name: person.name,
        open: intervalsOf(clipOpenTime(person.open, start, end)),
        spells: within(spells.people.get(person.resource) ?? []),
      })),
      machines: [...setting.machines.values()].flatMap((machine) =>
        Array.from({ length: machine.count }, (_, unit) => ({
          id: machine.id,
          name: machine.name,
          unit,
          spells: within(spells.machines.get(`${machine.resource}/${unit}`) ?? []),
        })),
      ),
      orders: orders
        .filter((order) => order.state !== 'received' && order.state !== 'ordered' && on(Math.max(order.orderBy, now)))
        .map((order) => ({ step: order.step, name: order.name, by: order.orderBy })),
      decisions: decisions
        .filter(
          (decision) => decision.decided === null && decision.decideBy !== null && on(Math.max(decision.decideBy, now)),
        )
        .map((decision) => ({ id: decision.id, question: decision.question, by: decision.decideBy! })),
      arrivals: orders
        .filter((order) => order.state !== 'received' && on(order.arrives))
        .map((order) => ({ step: order.step, name: order.name, at: order.arrives })),
    };
  });
}

interface Spells {
  readonly people: Map<number, DaySpell[]>;
  readonly machines: Map<string, DaySpell[]>;
}

function spellsOf(planned: Planned): Spells {
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
