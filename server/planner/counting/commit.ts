/** One commit for the requests that came together: each build is read once, and its entries are written together. */

import type { GroundCache, GroundState } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import { noBuild } from '../refusals.ts';
import type { Receipt, Snapshot } from '../types.ts';
import type { Commit, Request } from './gather.ts';
import { beginTaking, refused, type Taking, type TakingParts } from './taking.ts';

export interface CommitParts extends TakingParts {
  readonly ground: GroundCache;
  readonly keeper: Pick<ForecastKeeper, 'latest' | 'refresh'>;
  readonly changed: (id: string) => void;
  readonly report: (error: unknown) => void;
}

/** Stores what requests send in one transaction. When it fails nothing was counted. */
export function createCommit(parts: CommitParts): Commit {
  const { store, ground, keeper } = parts;
  return (requests, isOver) => {
    const states = new Map(requests.map(({ id }) => [id, ground.get(id)]));
    const atHand = new Map([...states].map(([id, state]) => [id, forecastAtHand(parts, id, state)]));
    const receipts = store.together(() => takeAll(parts, requests, atHand, isOver));
    const moved = requests.filter((_, i) => receipts[i]!.some(({ state }) => state === 'stored'));
    for (const id of new Set(moved.map((request) => request.id))) {
      parts.changed(id);
      keeper.refresh(id, states.get(id));
    }
    return receipts;
  };
}

/** What says how much is left; failing, it keeps no count out. */
export function forecastAtHand(
  { keeper, report }: Pick<CommitParts, 'keeper' | 'report'>,
  id: string,
  state: GroundState | null,
): Snapshot | null {
  try {
    return state && keeper.latest(id, state);
  } catch (error) {
    report(error);
    return null;
  }
}

/** In the order in which they came. */
function takeAll(
  parts: CommitParts,
  requests: readonly Request[],
  atHand: ReadonlyMap<string, Snapshot | null>,
  isOver: () => boolean,
): Receipt[][] {
  const takings = new Map<string, Taking | null>();
  for (const [id, snapshot] of atHand) {
    const state = parts.ground.get(id);
    takings.set(id, state && beginTaking(parts, state, snapshot));
  }
  const receipts = requests.map(({ id, entries, who }, i) => {
    if (i > 0 && isOver()) return [];
    return takings.get(id)?.take(entries, who, isOver) ?? entries.map((entry) => refused(entry, [noBuild(id)]));
  });
  for (const taking of takings.values()) taking?.write();
  return receipts;
}
