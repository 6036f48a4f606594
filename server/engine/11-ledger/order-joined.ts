/** Another order of work, joined with what caused it. */
import type { LedgerPart } from '../../model/index.ts';
import type { Minutes } from '../types.ts';

/** A part as the chain of states gave it; `onlyCosts`: it is of a kind that never gains room. */
export interface RawPart extends LedgerPart {
  readonly onlyCosts: boolean;
}

/**
 * The parts with `order`, the minutes that another order of work gained or cost in the end, put to what caused it, so
 * that their sum stays. A helper who cancels costs what was lost once everybody else has taken over their work: the
 * order is set off against the causes of the other sign, the largest first, none turned over. What never gains room (a
 * lost hour, scrap) is not said to have gained any. What the order still costs then is the largest cause's, or that of
 * the time that went by; what it still gains is its own, for a better one was found. O(parts log parts).
 *
 * @example lost -960, order +900: lost -60
 */
export function withOrderJoined(parts: readonly RawPart[], order: Minutes): LedgerPart[] {
  const minutes = parts.map((part) => (part.onlyCosts ? Math.min(0, part.minutes) : part.minutes));
  let rest = order + total(parts) - sum(minutes);
  const causes = [...parts.keys()]
    .filter((i) => !isOfTime(parts[i]!))
    .sort((a, b) => Math.abs(minutes[b]!) - Math.abs(minutes[a]!));
  for (const i of causes) {
    if (Math.sign(minutes[i]!) !== -Math.sign(rest)) continue;
    const taken = Math.sign(rest) * Math.min(Math.abs(rest), Math.abs(minutes[i]!));
    minutes[i] = minutes[i]! + taken;
    rest -= taken;
  }
  const bearer = rest < 0 ? (causes.find((i) => parts[i]!.minutes < 0) ?? lastOfTime(parts)) : undefined;
  if (bearer !== undefined) minutes[bearer] = minutes[bearer]! + rest;
  const told = parts.map(({ kind, subject, who }, i) => ({ kind, subject, who, minutes: minutes[i]! }));
  return [...told, { kind: 'order', subject: null, who: null, minutes: bearer === undefined ? rest : 0 }];
}

function isOfTime({ kind }: LedgerPart): boolean {
  return kind === 'time' || kind === 'counted';
}

function lastOfTime(parts: readonly LedgerPart[]): number | undefined {
  const at = parts.findLastIndex(({ kind }) => kind === 'time');
  return at < 0 ? undefined : at;
}

function total(parts: readonly LedgerPart[]): Minutes {
  return sum(parts.map(({ minutes }) => minutes));
}

function sum(minutes: readonly Minutes[]): Minutes {
  return minutes.reduce((all, one) => all + one, 0);
}
