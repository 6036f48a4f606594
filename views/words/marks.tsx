/** Small marks that more than one sheet uses. */

import type { ComponentChildren } from 'preact';
import type { Build, Forecast, ForecastDecision, ForecastStep, ParameterOrigin } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { lengthText, whenText, workText } from './wording.ts';

/** Where a number comes from, beside it; a guess is marked so that it is seen. Measured needs no word. */
export function OriginMark({ origin }: { origin: ParameterOrigin | null }): Html | null {
  if (origin === 'measured') return null;
  if (origin === null) return <span class="origin">{texts.origin.none}</span>;
  return <span class={`origin origin-${origin}`}>{texts.origin[origin]}</span>;
}

/** Steps, orders and gates with something left. */
export function openSteps(forecast: Forecast): ForecastStep[] {
  return forecast.steps.filter((step) => step.left > 0);
}

/** Whether a question is unanswered and something that waits for it is still to be done. */
export function isOpenDecision({ steps }: Forecast, { decided, waits }: ForecastDecision): boolean {
  return decided === null && !waits.every((id) => steps.find((step) => step.id === id)?.left === 0);
}

/** Whether all that is made before the load-in is made. */
export function isMade({ steps }: Forecast): boolean {
  return steps.every(({ left, onSite }) => left === 0 || onSite);
}

/** Whether units of a step were ordered and are not here yet, others still to order or not. */
export function isOnItsWay({ steps }: Pick<Forecast, 'steps'>, id: string): boolean {
  return steps.some((step) => step.id === id && step.underWay.some(({ kind }) => kind === 'ordered'));
}

/**
 * The name of a step, or its id where the forecast has none of that id.
 *
 *     stepName({ steps: [{ id: 'cut', name: 'cut ribs' }] }, 'cut') // 'cut ribs'
 */
export function stepName(forecast: Forecast, id: string): string {
  return byId(forecast.steps, id)?.name ?? id;
}

export function supplierName(build: Build, id: string): string {
  return build.suppliers?.find((it) => it.id === id)?.name ?? id;
}

export function machineName(build: Build, id: string): string {
  return build.machines?.find((it) => it.id === id)?.name ?? id;
}

/** What may be wider than a phone scrolls sideways by itself, by keyboard too. */
export function Scroll({ label, children }: { label: string; children: ComponentChildren }): Html {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard
    <section class="scroll" tabIndex={0} aria-label={label}>
      {children}
    </section>
  );
}

/** Whether something is still to be done after the load-in. */
export function hasSiteWork({ forecast }: Pick<BuildPage, 'forecast'>): boolean {
  return forecast.loadIn !== null && openSteps(forecast).some((step) => step.onSite);
}

/** What a ready-by that is kept would hide: that the work on site ends after the event. Null where it does not. */
export function siteLateText({ forecast, clock }: Pick<BuildPage, 'forecast' | 'clock'>): string | null {
  const { readyBy, event } = forecast.room;
  if ((readyBy.clock ?? -1) < 0 || event.finish === null || event.clock! >= 0) return null;
  const missing = event.missingHands === undefined ? null : workText(event.missingHands);
  return texts.rule.siteLate(whenText(clock, event.finish, forecast.now), lengthText(event.clock!, 'up'), missing);
}
