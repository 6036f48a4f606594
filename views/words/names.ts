/** What the ids in a forecast's facts are called. What is no longer there keeps its id. */
import type { CapacityGroup, Forecast } from '../../server/model/index.ts';
import { grammarTexts } from '../texts/grammar.ts';
import { stepName } from './marks.tsx';

/** Each once, in their order. */
export function namesOfSteps(forecast: Forecast, ids: readonly string[]): string[] {
  return [...new Set(ids)].map((id) => stepName(forecast, id));
}

/** Each by itself, in their order: two people may have one name. */
export function namesOfPeople(forecast: Pick<Forecast, 'days'>, ids: readonly string[]): string[] {
  return ids.map((id) => nameOfPerson(forecast, id));
}

/** A group of hands, by those in it, or a machine, by its name. */
export function nameOfGroup(forecast: Pick<Forecast, 'days'>, { name, kind, members }: CapacityGroup): string {
  if (kind === 'machine' || members.length < 2) return name;
  if (name === ALL_HANDS) return grammarTexts.allHands;
  return namesOfPeople(forecast, members).reduce((names, last) => grammarTexts.or(names, last));
}

/** What the forecast calls the group of everybody. */
const ALL_HANDS = 'all hands';

/** Whose hours a proof is of, by the name that the forecast has for them. */
export function nameOfHours(forecast: Pick<Forecast, 'capacity' | 'days'>, name: string): string {
  const group = forecast.capacity.find((one) => one.name === name);
  return group === undefined ? name : nameOfGroup(forecast, group);
}

export function nameOfMachine({ capacity }: Pick<Forecast, 'capacity'>, id: string): string {
  return capacity.find((group) => group.kind === 'machine' && group.id === id)?.name ?? id;
}

export function nameOfPerson({ days }: Pick<Forecast, 'days'>, id: string): string {
  for (const { people } of days) {
    const person = people.find((one) => one.id === id);
    if (person !== undefined) return person.name;
  }
  return id;
}
