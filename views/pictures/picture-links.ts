/** Where the pictures of a build are found, and what comes out of its steps is called in them. */

import type { Forecast } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { screenHref } from '../links.ts';
import type { BuildPage } from '../types.ts';
import { loggedText } from '../words/supply-words.ts';
import { counted } from '../words/wording.ts';
import type { WaitsAsked } from './waits-facts.ts';

/** All steps together. */
export function burnHref(build: string): string {
  return `/b/${build}/burn-down`;
}

export function balanceHref(build: string): string {
  return `/b/${build}/balance`;
}

/** Which step waits for which: all that can be read at once, all steps, or those around one. */
export function waitsHref(build: string, { around, all }: WaitsAsked = { around: null, all: false }): string {
  const asked = around !== null ? `?around=${encodeURIComponent(around)}` : all ? '?all=1' : '';
  return `/b/${build}/waits${asked}`;
}

/** The sheet of one step. */
export function stepHref(build: string, step: string): string {
  return `${screenHref(build, 'steps')}/${encodeURIComponent(step)}`;
}

/** The number on a step's ticket. */
export function numberOf({ forecast }: BuildPage, step: string): number {
  return forecast.steps.findIndex(({ id }) => id === step) + 1;
}

/** What comes out of a step: units of its part, or where it has none of what it is called. */
export function outText(forecast: Forecast, id: string, units: number): string {
  const step = byId(forecast.steps, id);
  return step?.part === null ? counted(units, step.name) : loggedText(forecast, id, units);
}
