/**
 * What this phone has counted, kept in the browser's durable storage before anything on the page changes. Every tab of
 * the phone sees the same outbox. An entry leaves it only long after the server has said that it is on its disk.
 */
import type { LastArrived, WireEntry, WireReceipt } from './count-wire.ts';
import { type Change, DATABASE, type Kept, openShelf, type Shelf } from './outbox-shelf.ts';
import { CLOCK_NOISE_MS, type ClockReading, createPhoneClock, shiftsOf } from './phone-clock.ts';

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
  /**
   * Keeps the drafts together; when it resolves they are in storage. Rejects, with nothing kept, when storage fails.
   */
  keep(drafts: readonly Draft[]): Promise<readonly Kept[]>;
  /** The server has said by how much its clock is ahead: corrects and fixes the instants of all that waits. */
  hear(offsetMs: number): Promise<void>;
  /** The next entries to send, in order, corrected by what the server's clock was ahead when it was heard last. */
  nextBatch(most: number, offsetMs: number): Promise<readonly WireEntry[]>;
  /** By how much the phone's clock was found to have been set under entries that waited; 0 where it was not. */
  clockSetMs(): number;
  take(receipts: readonly WireReceipt[]): Promise<void>;
  refuse(ids: readonly string[], reason: string): Promise<void>;
  settle(id: string): Promise<void>;
  /** What was refused waits again, with its instant corrected again: the reason may be gone. */
  tryAgain(ids: readonly string[]): Promise<void>;
  /** What had arrived is sent again: the server's book was put back to an older state. */
  sendAllAgain(): Promise<void>;
  lastArrived(): LastArrived | null;
  /** Reads what other tabs have changed. */
  reload(): Promise<void>;
  /** Drops what arrived two months ago or longer, and reads the rest. */
  forgetOld(): Promise<void>;
  /** How many entries were kept again because the browser had cleared its storage under the page. */
  putBack(): number;
  /** Called after every change, by this tab or another. */
  onChange(listener: () => void): void;
}

const KEEP_ARRIVED_MS = 60 * 24 * 3600 * 1000;

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
  const clock = createPhoneClock(newId());
  const shown = createShown(build, shelf);
  const { list, write } = shown;
  let clockSetMs = 0;

  const correct = async (offsetMs: number): Promise<void> => {
    if (!list().some(isUncorrected)) return;
    const [now, heard] = [clock(), shelf.heard()];
    const setMs = heard === null ? null : heard.offsetMs - offsetMs;
    await write((all) => {
      const put = corrected(all, shiftsOf(heard, all.filter(isFresh), now, setMs), offsetMs);
      clockSetMs = put.map(({ shiftMs }) => shiftMs!).reduce(further, clockSetMs);
      return { put };
    });
  };

  return {
    durable: shelf.durable,
    list,
    keep: async (drafts) => {
      const read = clock();
      const fresh = await shelf.add(drafts.map((draft) => kept(build, draft, read)));
      shown.add(fresh);
      return fresh;
    },
    hear: async (offsetMs) => {
      await correct(offsetMs);
      shelf.hear({ ...clock(), offsetMs });
    },
    nextBatch: async (most, offsetMs) => {
      await correct(offsetMs);
      const waiting = list().filter((entry) => entry.state === 'waiting');
      return waiting.slice(0, most).map((one) => one.entry);
    },
    clockSetMs: () => clockSetMs,
    putBack: () => shelf.putBack(),
    ...answersTo(write),
    lastArrived: () => lastArrived(list()),
    reload: shown.reload,
    forgetOld: () => write((now) => ({ drop: now.filter((e) => isOld(e, Date.now())).map((e) => e.number) })),
    onChange: shown.onChange,
  };
}

/** What this tab knows of the shelf; other tabs of the phone hear when it changes, and it hears of them. */
function createShown(build: string, shelf: Shelf) {
  let entries: readonly Kept[] = [];
  const listeners: (() => void)[] = [];
  const others = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(`${DATABASE}:${build}`);
  const tell = (): void => {
    for (const listener of listeners) listener();
  };
  const changed = (now: readonly Kept[]): void => {
    entries = now;
    others?.postMessage('changed');
    tell();
  };
  const reload = async (): Promise<void> => {
    entries = await shelf.read();
    tell();
  };
  if (others) others.onmessage = () => void reload();
  shelf.onClosed(() => void reload());
  return {
    list: (): readonly Kept[] => entries,
    reload,
    write: async (change: (now: readonly Kept[]) => Change): Promise<void> => changed(await shelf.write(change)),
    add: (fresh: readonly Kept[]): void => {
      const added = new Set(fresh.map((entry) => entry.number));
      changed([...entries.filter((entry) => !added.has(entry.number)), ...fresh]);
    },
    onChange: (listener: () => void): void => void listeners.push(listener),
  };
}

type Write = (change: (now: readonly Kept[]) => Change) => Promise<void>;

/** What becomes of entries when the server has answered. */
function answersTo(write: Write): Pick<Outbox, 'take' | 'refuse' | 'settle' | 'tryAgain' | 'sendAllAgain'> {
  const change = (isMeant: (entry: Kept) => boolean, to: Partial<Kept>): Promise<void> =>
    write((now) => ({ put: now.filter(isMeant).map((entry) => ({ ...entry, ...to })) }));
  return {
    take: (receipts) => {
      const byId = new Map(receipts.map((receipt) => [receipt.id, receipt]));
      return write((now) => ({
        put: now.flatMap((entry) => {
          const receipt = byId.get(entry.id);
          return receipt === undefined ? [] : [received(entry, receipt)];
        }),
      }));
    },
    refuse: (ids, reason) => change(({ id }) => ids.includes(id), { state: 'refused', reasons: [reason] }),
    settle: (one) => change(({ id }) => id === one, { settled: true }),
    tryAgain: (ids) =>
      change(({ id, state }) => ids.includes(id) && state === 'refused', {
        state: 'waiting',
        frozen: false,
        settled: false,
        reasons: [],
      }),
    sendAllAgain: () => change(({ state }) => state === 'arrived', { state: 'waiting', seq: null }),
  };
}

/** The arrived entry that the server gave the highest number. */
function lastArrived(entries: readonly Kept[]): LastArrived | null {
  let last: LastArrived | null = null;
  for (const { id, seq, state } of entries) {
    if (state === 'arrived' && seq !== null && seq > (last?.seq ?? 0)) last = { id, seq };
  }
  return last;
}

function further(a: number, b: number): number {
  return Math.abs(b) > Math.abs(a) ? b : a;
}

function kept(build: string, draft: Draft, read: ClockReading): Omit<Kept, 'number'> {
  const { phoneMs = read.wallMs, ...rest } = draft;
  const reading = new Date(phoneMs).toISOString();
  const id = newId();
  return {
    id,
    build,
    entry: { id, ...rest, at: reading, phoneAt: reading },
    phoneMs,
    read,
    shiftMs: null,
    frozen: false,
    state: 'waiting',
    seq: null,
    reasons: [],
    settled: false,
  };
}

function isUncorrected({ state, frozen }: Kept): boolean {
  return state === 'waiting' && !frozen;
}

/**
 * Not corrected yet, nor ever before: what is sent once more after a refusal keeps what was found of the phone's clock
 * then.
 */
function isFresh(entry: Kept): boolean {
  return isUncorrected(entry) && entry.shiftMs === null;
}

/** What waits, with its instants: what the phone said, how its clock was set since, and the server's lead over it. */
function corrected(all: readonly Kept[], shifts: ReadonlyMap<number, number>, offsetMs: number): Kept[] {
  const correctionMs = Math.abs(offsetMs) < CLOCK_NOISE_MS ? 0 : offsetMs;
  const shiftOf = ({ number, shiftMs }: Kept): number => shiftMs ?? shifts.get(number) ?? 0;
  const waiting = all.filter(isUncorrected);
  return waiting.map((one) => {
    // An instant that was read off an earlier entry is as wrong as that entry's was.
    const of = one.phoneMs === one.read.wallMs ? one : (all.find(({ read }) => read.wallMs === one.phoneMs) ?? one);
    const byMs = of.frozen ? Date.parse(of.entry.at) - of.phoneMs : shiftOf(of) + correctionMs;
    const at = new Date(one.phoneMs + byMs).toISOString();
    return { ...one, frozen: true, shiftMs: shiftOf(one), entry: { ...one.entry, at } };
  });
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
