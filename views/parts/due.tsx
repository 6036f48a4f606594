/** What is due on the Countdown: orders and decisions, the next first. */
import type { Forecast, ForecastDecision, ForecastOrder } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { highText, questionText, uncheckedText } from '../words/design-words.ts';
import { isOpenDecision, stepName, supplierName } from '../words/marks.tsx';
import { arrivalText, packsText } from '../words/schedule-words.ts';
import { noDayText, orderedText } from '../words/supply-words.ts';
import { lateFromStart, soonText } from '../words/wording.ts';

const say = texts.countdown;
/** Missed last moments that stand open; of more only the first does. */
const MISSED_SHOWN = 2;

interface DueRow {
  readonly key: string;
  readonly by: number;
  readonly text: string;
  readonly more: string;
}

/** Orders and decisions by their last moment; those that were missed folded behind the first where they are many. */
export function Due({ page }: { page: BuildPage }): Html {
  const rows = dueRows(page);
  if (rows.length === 0) return <p>{say.nothingDue}</p>;
  const missed = rows.filter(({ by }) => by < page.forecast.now);
  const folded = missed.length > MISSED_SHOWN ? missed.slice(1) : [];
  return (
    <>
      <DueList page={page} rows={rows.filter((row) => !folded.includes(row))} />
      {folded.length === 0 ? null : (
        <details>
          <summary>{say.furtherWarnings(folded.length)}</summary>
          <DueList page={page} rows={folded} />
        </details>
      )}
      <p class="quiet small">{texts.dates.moves}</p>
    </>
  );
}

function DueList({ page: { forecast }, rows }: { page: BuildPage; rows: readonly DueRow[] }): Html {
  return (
    <ul class="due-list">
      {rows.map((row) => (
        <li key={row.key}>
          <span class={row.by < forecast.now ? 'threat' : undefined}>{row.text}</span>{' '}
          <span class="quiet">
            {row.by < forecast.now && lateFromStart(forecast, row.by) === null ? `${say.tooLate}; ` : ''}
            {row.more}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** What is still to be ordered, sent out and decided, the earliest last moment first. */
export function dueRows(page: BuildPage): DueRow[] {
  const { forecast } = page;
  return openDues(forecast).map(({ key, by, ...due }) =>
    'order' in due
      ? { key, by, text: orderText(page, due.order), more: moreOfOrder(page, due.order) }
      : {
          ...{ key, by, text: decideText(page, due.decision) },
          more: say.waiting(due.decision.waits.map((id) => stepName(forecast, id)).join(', ')),
        },
  );
}

/**
 * An order or a question that is open. `key` is the id of the order's step or of the decision; a question without a
 * last moment is due now.
 */
export type OpenDue = { readonly key: string; readonly by: number } & (
  | { readonly order: ForecastOrder }
  | { readonly decision: ForecastDecision }
);

/**
 * By their last moments, the earliest first: orders that nobody has placed and questions that nobody has answered, as
 * long as something waits for the answer.
 */
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

function moreOfOrder({ build, forecast, clock }: BuildPage, order: ForecastOrder): string {
  const words = [
    packsText(build, forecast, order),
    say.from(supplierName(build, order.supplier)),
    noDayText(forecast, clock, order.step),
    arrivalText(forecast, clock, order),
    leadText(order),
    highText(forecast, order),
    uncheckedText(forecast, order.part),
  ];
  return words.filter((it) => it !== null).join(', ');
}

function orderText({ clock, forecast }: BuildPage, order: ForecastOrder): string {
  const { kind, orderBy } = order;
  const what = orderedText(order);
  const late = lateFromStart(forecast, orderBy);
  if (late !== null) return (kind === 'buy' ? say.orderedBeforeStart : say.sentBeforeStart)(what, late);
  return (kind === 'buy' ? say.orderBefore : say.sendBefore)(what, soonText(clock, orderBy, forecast.now));
}

/** What is to be decided and by when, or by how much it is too late where that was before the build began. */
export function decideText(
  { clock, forecast }: BuildPage,
  decision: Pick<ForecastDecision, 'question' | 'settles' | 'decideBy'>,
): string {
  const { decideBy } = decision;
  const question = questionText(forecast, decision);
  if (decideBy === null) return say.decideUndated(question).trim();
  const late = lateFromStart(forecast, decideBy);
  if (late !== null) return say.decidedBeforeStart(question, late).trim();
  return say.decideBefore(question, soonText(clock, decideBy, forecast.now)).trim();
}

/** What the lead time is planned with, where deliveries have said that it is another. */
function leadText({ lead }: ForecastOrder): string | null {
  if (lead === undefined || lead.planned === lead.given) return null;
  return say.leadLearnt(String(lead.planned), String(lead.given), lead.deliveries);
}
