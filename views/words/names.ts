/** What the ids in a forecast's facts are called. What is no longer there keeps its id. */
import type { Forecast } from '../../server/model/index.ts';
import { stepName } from './marks.tsx';

/** Each once, in their order. */
export function namesOfSteps(forecast: Forecast, ids: readonly string[]): string[] {
  return [...new Set(ids)].map((id) => stepName(forecast, id));
}

/** Each by itself, in their order: two people may have one name. */
export function namesOfPeople(forecast: Pick<Forecast, 'days'>, ids: readonly string[]): string[] {
  return ids.map((id) => nameOfPerson(forecast, id));
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
