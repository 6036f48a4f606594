/**
 * Requests that arrive together are committed together: the first waits while a turn of the event loop brings others,
 * and each is answered when its entries are on the disk.
 */
import type { NewLogEntry } from '../../model/index.ts';
import type { Disk } from '../../store/index.ts';
import type { Receipt } from '../types.ts';

/** Entries for a build, as somebody sent them. */
export interface Request {
  readonly id: string;
  readonly entries: readonly NewLogEntry[];
  readonly who: string;
}

/** One transaction around the requests, or around as many of their entries as it took until `isOver`. */
export type Commit = (requests: readonly Request[], isOver: () => boolean) => Receipt[][];

interface Waiting extends Request {
  /** The receipts of the first entries, which were taken already. */
  readonly receipts: readonly Receipt[];
  readonly resolve: (receipts: Receipt[]) => void;
  readonly reject: (error: unknown) => void;
}

/** Turns of the event loop that the first of several requests waits at most for those that come close behind it. */
const MOST_TURNS = 8;
/** Milliseconds of storing, after which what is stored is committed. */
const LONGEST_COMMIT = 10;

/** A queue in front of `commit`: gives the receipts of a request once all of its entries are stored, on the disk. */
export function createGathering(commit: Commit, synced: Disk['synced']): (request: Request) => Promise<Receipt[]> {
  let waiting: Waiting[] = [];

  const gather = (before: number, turns: number): void => {
    if (waiting.length > before && turns < MOST_TURNS) setImmediate(gather, waiting.length, turns + 1);
    else flush();
  };

  const flush = (): void => {
    const requests = waiting;
    waiting = [];
    serve({ commit, synced }, requests);
  };

  return (request) =>
    new Promise((resolve, reject) => {
      waiting.push({ ...request, receipts: [], resolve, reject });
      if (waiting.length === 1) setImmediate(gather, 1, 1);
    });
}

interface Storing {
  readonly commit: Commit;
  readonly synced: Disk['synced'];
}

/** What takes longer than a turn is stored in several, with others' requests between. */
function serve(storing: Storing, requests: readonly Waiting[]): void {
  const over = performance.now() + LONGEST_COMMIT;
  let taken: Receipt[][];
  try {
    taken = storing.commit(requests.map(leftOf), () => performance.now() > over);
  } catch (error) {
    if (requests.length === 1 || isOfDisk(error)) for (const request of requests) request.reject(error);
    else for (const request of requests) serve(storing, [request]);
    return;
  }
  const left = requests.flatMap((request, i): Waiting[] => {
    const receipts = [...request.receipts, ...taken[i]!];
    if (receipts.length < request.entries.length) return [{ ...request, receipts }];
    // An entry that is known may have come just now, by a request that broke off.
    const there = storing.synced();
    if (there === null) request.resolve(receipts);
    else there.then(() => request.resolve(receipts), request.reject);
    return [];
  });
  if (left.length > 0) setImmediate(serve, storing, left);
}

/** What of a request was not taken yet. */
function leftOf({ id, who, entries, receipts }: Waiting): Request {
  return { id, who, entries: entries.slice(receipts.length) };
}

/** What a full or locked disk refuses to one request it refuses to all of them, and each try holds up the rest. */
function isOfDisk(error: unknown): boolean {
  return /^SQLITE_(BUSY|FULL|IOERR|READONLY|CANTOPEN)/.test(String((error as { code?: unknown }).code));
}
