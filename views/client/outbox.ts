/**
 * What this phone has counted, kept in the browser's durable storage before anything on the page changes. Every tab of the
 * phone sees the same outbox. An entry leaves it only long after the server has said that it is on its disk.
 */
import type { LastArrived, WireEntry, WireReceipt } from './count-wire.ts';
import { type Change, DATABASE, type Kept, openShelf, type Shelf } from './outbox-shelf.ts';

/** An entry as it is tapped, before it has an id and an instant. */
export type Draft = Omit<WireEntry, 'id' | 'at' | 'phoneAt'> & {
  /** When it happened, where that is not now: the phone's own clock, milliseconds since the epoch. */
  readonly phoneMs?: number;
};

export interface Outbox {
  /** False: this browser refuses to keep anything, and what is here is lost with the page. */
  readonly durable: boolean;
  /** In order of tapping; the same array until something changes. */
  list(): readonly Kept[];
  /** Keeps the drafts together; when it resolves they are in storage. Rejects, with nothing kept, when storage fails. */
  keep(drafts: readonly Draft[]): Promise<readonly Kept[]>;
  /** Corrects and fixes the instants of the waiting entries up to a batch, and gives that batch in order. */
  nextBatch(most: number, offsetMs: number): Promise<readonly WireEntry[]>;
  take(receipts: readonly WireReceipt[]): Promise<void>;
  refuse(ids: readonly string[], reason: string): Promise<void>;
  settle(id: string): Promise<void>;
  /** What was refused waits again, with its instant corrected anew: the reason may be gone. */
  tryAgain(id: string): Promise<void>;
  /** What had arrived is sent again: the server's book was put back to an older state. */
  sendAllAgain(): Promise<void>;
  lastArrived(): LastArrived | null;
  /** Reads what other tabs have changed. */
  reload(): Promise<void>;
  /** Drops what arrived two months ago or longer, and reads the rest. */
  forgetOld(): Promise<void>;
  /** Called after every change, by this tab or another. */
  onChange(listener: () => void): void;
}

const KEEP_ARRIVED_MS = 60 * 24 * 3600 * 1000;
/** Readings of one clock that differ by less are the same. */
const CLOCK_NOISE_MS = 2000;

/** Opens the outbox of a build; one that lives in memory only where the browser keeps nothing. */
export async function openOutbox(build: string): Promise<Outbox> {
  const outbox = createOutbox(build, await openShelf(build));
  await outbox.forgetOld();
  return outbox;
}

/** An id that no other phone makes: 128 random bits; works without a secure context. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** What a build has on a shelf, read once and kept in step with the other tabs of the phone. */
export function createOutbox(build: string, shelf: Shelf): Outbox {
  let entries: readonly Kept[] = [];
  const listeners: (() => void)[] = [];
  const clock = watchClock();
  const others = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(`${DATABASE}:${build}`);

  const tell = (): void => {
    for (const listener of listeners) listener();
  };
  const reload = async (): Promise<void> => {
    entries = await shelf.read();
    tell();
  };
  const write = async (change: (now: readonly Kept[]) => Change): Promise<void> => {
    entries = await shelf.write(change);
    others?.postMessage('changed');
    tell();
  };
  if (others) others.onmessage = () => void reload();

  return {
    durable: shelf.durable,
    list: () => entries,
    keep: async (drafts) => {
      const { nowMs, setBackMs } = clock.read();
      if (setBackMs !== 0) {
        await write((now) => ({ put: now.filter((e) => !e.frozen).map((e) => setBack(e, setBackMs)) }));
      }
      const fresh = await shelf.add(drafts.map((draft) => kept(build, draft, nowMs)));
      const added = new Set(fresh.map((entry) => entry.number));
      entries = [...entries.filter((entry) => !added.has(entry.number)), ...fresh];
      others?.postMessage('changed');
      tell();
      return fresh;
    },
    nextBatch: async (most, offsetMs) => {
      const waiting = entries.filter((entry) => entry.state === 'waiting').slice(0, most);
      const numbers = new Set(waiting.map((entry) => entry.number));
      if (waiting.some((entry) => !entry.frozen)) {
        await write((now) => ({
          put: now.filter((e) => numbers.has(e.number) && !e.frozen).map((e) => freeze(e, offsetMs)),
        }));
      }
      return entries.filter((entry) => numbers.has(entry.number)).map((entry) => entry.entry);
    },
    take: (receipts) => {
      const byId = new Map(receipts.map((receipt) => [receipt.id, receipt]));
      return write((now) => ({
        put: now.flatMap((entry) => {
          const receipt = byId.get(entry.id);
          return receipt === undefined ? [] : [received(entry, receipt)];
        }),
      }));
    },
    refuse: (ids, reason) =>
      write((now) => ({
        put: now
          .filter((entry) => ids.includes(entry.id))
          .map((entry) => ({ ...entry, state: 'refused', reasons: [reason] })),
      })),
    settle: (id) => write((now) => ({ put: now.filter((e) => e.id === id).map((e) => ({ ...e, settled: true })) })),
    tryAgain: (id) =>
      write((now) => ({
        put: now
          .filter((entry) => entry.id === id && entry.state === 'refused')
          .map((entry) => ({ ...entry, state: 'waiting', frozen: false, settled: false, reasons: [] })),
      })),
    sendAllAgain: () =>
      write((now) => ({
        put: now.filter((e) => e.state === 'arrived').map((e) => ({ ...e, state: 'waiting', seq: null })),
      })),
    lastArrived: () => {
      let last: LastArrived | null = null;
      for (const { id, seq, state } of entries) {
        if (state === 'arrived' && seq !== null && seq > (last?.seq ?? 0)) last = { id, seq };
      }
      return last;
    },
    reload,
    forgetOld: () => write((now) => ({ drop: now.filter((e) => isOld(e, Date.now())).map((e) => e.number) })),
    onChange: (listener) => void listeners.push(listener),
  };
}

function kept(build: string, draft: Draft, nowMs: number): Omit<Kept, 'number'> {
  const { phoneMs = nowMs, ...rest } = draft;
  const reading = new Date(phoneMs).toISOString();
  const id = newId();
  return {
    id,
    build,
    entry: { id, ...rest, at: reading, phoneAt: reading },
    phoneMs,
    setBackMs: 0,
    frozen: false,
    state: 'waiting',
    seq: null,
    reasons: [],
    settled: false,
  };
}

function setBack(entry: Kept, byMs: number): Kept {
  return { ...entry, setBackMs: entry.setBackMs + byMs };
}

/** The corrected instant: what the phone said, plus the server's lead over it, as the phone's clock stood when it was tapped. */
function freeze(entry: Kept, offsetMs: number): Kept {
  const correction = Math.abs(offsetMs) < CLOCK_NOISE_MS ? 0 : offsetMs;
  const at = new Date(entry.phoneMs + entry.setBackMs + correction).toISOString();
  return { ...entry, frozen: true, entry: { ...entry.entry, at } };
}

function received(entry: Kept, receipt: WireReceipt): Kept {
  if (receipt.state === 'refused') {
    const reasons = receipt.problems.map((problem) => problem.message);
    return { ...entry, state: 'refused', reasons };
  }
  return { ...entry, state: 'arrived', seq: receipt.seq, reasons: [] };
}

function isOld(entry: Kept, nowMs: number): boolean {
  return entry.state === 'arrived' && entry.phoneMs < nowMs - KEEP_ARRIVED_MS;
}

/**
 * Notices when the phone's clock is set back while the page is open: the wall clock then falls behind the clock that only
 * runs forward. Falling ahead of it proves nothing, for the latter may stand still while the phone sleeps.
 */
function watchClock(): { read(): { nowMs: number; setBackMs: number } } {
  let [lastWall, lastSteady] = [Date.now(), performance.now()];
  return {
    read: () => {
      const [wall, steady] = [Date.now(), performance.now()];
      const step = wall - lastWall - (steady - lastSteady);
      [lastWall, lastSteady] = [wall, steady];
      return { nowMs: wall, setBackMs: step < -CLOCK_NOISE_MS ? Math.round(step) : 0 };
    },
  };
}
