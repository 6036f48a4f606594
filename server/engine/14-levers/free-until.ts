/** Last moments before something costs the finish as it is planned, whatever the ready-by. */
import type { FreeUntil } from '../../model/index.ts';
import { decisionsAnswer, ordersAnswer } from '../10-answers/index.ts';
import type { Planned } from '../stages/index.ts';
import { aimedAtItsFinish } from './way-moments.ts';

/**
 * By when to order and to decide so that the planned finish stays as it is: where the date is missed already these are
 * the moments that still count. What is ordered and what is decided is left out. The earliest first.
 */
export function freeUntilOf(planned: Planned): FreeUntil[] {
  const aimed = aimedAtItsFinish(planned);
  if (aimed === null) return [];
  const orders = ordersAnswer(aimed)
    .filter(({ state }) => state === 'to-order' || state === 'late')
    .map(({ step, name, orderBy }): FreeUntil => ({ kind: 'order', id: step, name, until: orderBy }));
  const decisions = decisionsAnswer(aimed).flatMap(({ id, question, decideBy, decided }): FreeUntil[] =>
    decideBy === null || decided !== null ? [] : [{ kind: 'decision', id, name: question, until: decideBy }],
  );
  return [...orders, ...decisions].sort((a, b) => a.until - b.until);
}
