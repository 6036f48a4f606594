/** Where the pictures of a build are found, and what its steps and their units are called in them. */
import type { Forecast } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import type { BuildPage } from '../types.ts';

/** All steps together. */
export function burnHref(build: string): string {
  return `/b/${build}/burn-down`;
}

export function balanceHref(build: string): string {
  return `/b/${build}/balance`;
}

/** The sheet of one step. */
export function stepHref(build: string, step: string): string {
  return `${screenHref(build, 'steps')}/${encodeURIComponent(step)}`;
}

/** The number on a step's ticket. */
export function numberOf({ forecast }: BuildPage, step: string): number {
  return forecast.steps.findIndex(({ id }) => id === step) + 1;
}

/** What comes out of a step: its part, or where it has none what it is called. */
export function thingOf(forecast: Forecast, id: string): string {
  const step = forecast.steps.find((it) => it.id === id);
  return step === undefined ? id : step.part === null ? step.name : step.unit;
}
