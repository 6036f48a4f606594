/** What is still to be ordered, sent out and decided, the earliest last moment first. */
import type { Forecast, ForecastDecision, ForecastOrder } from '../../server/model/index.ts';
import { isOpenDecision } from './marks.tsx';

/** `key` is the id of the order's step or of the decision; a question without a last moment is due now. */
export type OpenDue = { readonly key: string; readonly by: number } & (
  | { readonly order: ForecastOrder }
  | { readonly decision: ForecastDecision }
);

/** Orders that nobody has placed and questions that nobody has answered, as long as something waits for the answer. */
export function openDues(forecast: Forecast): OpenDue[] {
  const { orders, decisions, now } = forecast;
  return [
    ...orders
      .filter(({ state }) => state === 'to-order' || state === 'late')
      .map((order) => ({ key: order.step, by: order.orderBy, order })),
    ...decisions
      .filter((decision) => isOpenDecision(forecast, decision))
      .map((decision) => ({ key: decision.id, by: decision.decideBy ?? now, decision })),
  ].sort((a, b) => a.by - b.by);
}
