/** What is due on the Countdown: orders and decisions, the next first. */
import { isOpenDecision, stepName, supplierName } from './marks.tsx';
import type { Html } from './render.ts';
import { arrivalText, packsText } from './schedule-words.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import { counted, soonText } from './wording.ts';

const say = texts.countdown;

/** Orders and decisions by their last moment, with what has been missed first. */
export function Due({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const orders = forecast.orders.filter((order) => order.state === 'to-order' || order.state === 'late');
  const decisions = forecast.decisions.filter((decision) => isOpenDecision(forecast, decision));
  if (orders.length === 0 && decisions.length === 0) return <p>{say.nothingDue}</p>;
  const rows = [
    ...orders.map((order) => {
      const text = order.kind === 'buy' ? say.orderBefore : say.sendBefore;
      return {
        key: order.step,
        by: order.orderBy,
        text: text(counted(order.units, order.name), soonText(clock, order.orderBy, forecast.now)),
        more: [
          packsText(page.build, forecast, order),
          say.from(supplierName(page.build, order.supplier)),
          arrivalText(forecast, clock, order),
        ]
          .filter((words) => words !== null)
          .join(', '),
      };
    }),
    ...decisions.map((decision) => ({
      key: decision.id,
      by: decision.decideBy ?? forecast.now,
      text: say.decideBefore(decision.question, decideWhen(page, decision.decideBy)),
      more: say.waiting(decision.waits.map((id) => stepName(forecast, id)).join(', ')),
    })),
  ].sort((a, b) => a.by - b.by);
  return (
    <>
      <ul class="due-list">
        {rows.map((row) => (
          <li key={row.key}>
            <span class={row.by < forecast.now ? 'threat' : undefined}>{row.text}</span>{' '}
            <span class="quiet">
              {row.by < forecast.now ? `${say.tooLate}; ` : ''}
              {row.more}
            </span>
          </li>
        ))}
      </ul>
      <p class="quiet small">{texts.dates.moves}</p>
    </>
  );
}

function decideWhen(page: BuildPage, by: number | null): string {
  return by === null ? texts.unknown : soonText(page.clock, by, page.forecast.now);
}
