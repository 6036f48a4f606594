/** The last forecast of each build, with what it was computed from, and the history of what gained or cost room. */
import { causeOfLine, FORECAST_FORMAT, type Forecast, type LedgerPart, type TurnCause } from '../model/index.ts';
import type { Disk } from './disk.ts';
import { joined, packedPieces, unpacked } from './forecast-pieces.ts';
import type { Db } from './open.ts';

/** `quick`: a first answer; `deep`: after the search for a better order of work. */
export type Depth = 'quick' | 'deep';

export interface KeptForecast {
  readonly forecast: Forecast;
  readonly revision: number;
  readonly logSeq: number;
  /** Minutes since the epoch. */
  readonly computedAt: number;
  readonly depth: Depth;
}

/**
 * One change of the answer. `roomMinutes` is the clock time to the ready-by, negative when late; `chance` is null where
 * no risk was run.
 */
export interface NewTurn {
  readonly computedAt: number;
  readonly revision: number;
  readonly logSeq: number;
  readonly cause: TurnCause;
  /** Who edited and counted, by name; null where only time went by. */
  readonly who: string | null;
  readonly readyAt: number | null;
  readonly roomMinutes: number | null;
  readonly chance: number | null;
}

/**
 * As kept: numbered 1, 2, 3 … and, once worked out, in parts that add up to the change of room since the turn before.
 */
export interface Turn extends NewTurn {
  readonly number: number;
  readonly parts: readonly LedgerPart[] | null;
  /**
   * Worked out afterwards, from what the log says had happened by then; `logSeq` is then the highest number among it.
   */
  readonly rebuilt: boolean;
}

/**
 * A turn with the plan that stood before it, a text that only its writer reads; null: its parts are not to be worked
 * out.
 */
export interface TurnAfter {
  readonly turn: NewTurn;
  readonly former: string | null;
}

/** A turn that waits for its parts. */
export interface PendingTurn {
  readonly number: number;
  /** Names the plan that stood before it, whatever number the turn has by now. */
  readonly former: number;
}

export interface ForecastStore {
  /** Whoever made it: `current` is false where that was a program with another form of forecasts. */
  last(key: number): (KeptForecast & { readonly current: boolean }) | null;
  /** The last forecast in compressed pieces (see `joinedInTurns`); empty where it is not kept so, or there is none. */
  pieces(key: number): Uint8Array[];
  /** What the last forecast is of and how it was made, without reading it. */
  head(key: number): (Omit<KeptForecast, 'forecast'> & { readonly current: boolean }) | null;
  /** Keeps the forecast in the place of the last one and, if given, a row of history, in one transaction. */
  keep(key: number, kept: KeptForecast, turn: NewTurn | null, former?: string | null): void;
  /** Oldest first. */
  history(key: number): Turn[];
  /**
   * The last turn up to an instant (minutes since the epoch; where there is none, the first of all) and all after it,
   * oldest first.
   */
  turnsFrom(key: number, instant: number): Turn[];
  turn(key: number, number: number): Turn | null;
  lastTurn(key: number): Turn | null;
  /** Keeps the parts of a turn; the plan before it is needed no more. */
  attribute(key: number, number: number, parts: readonly LedgerPart[]): void;
  /** The first turn that waits for its parts, leaving out the plans of `except`. */
  pending(key: number, except: readonly number[]): PendingTurn | null;
  /** The text of the plan that stood before a turn, by the `former` of the turn; null where it is needed no more. */
  former(former: number): string | null;
  /** Puts rebuilt turns before all others, which get higher numbers; `former` is the plan before what was the first. */
  prepend(key: number, past: readonly TurnAfter[], former: string | null): void;
}

/** The questions about forecasts that the database answers. */
export function createForecastStore(db: Db, disk: Pick<Disk, 'unawaited'>): ForecastStore {
  return { ...lastOf(db, disk), ...turnsOf(db, disk) };
}

type LastForecasts = Pick<ForecastStore, 'last' | 'pieces' | 'head' | 'keep'>;

/** The last forecast of each build, in pieces. */
function lastOf(db: Db, disk: Pick<Disk, 'unawaited'>): LastForecasts {
  const last = db.prepare(`
    select revision, log_seq as logSeq, computed_at as computedAt, depth, format, document from forecasts where build_key = ?`);
  const head = db.prepare(`
    select revision, log_seq as logSeq, computed_at as computedAt, depth, format from forecasts where build_key = ?`);
  const put = db.prepare(`
    insert into forecasts (build_key, revision, log_seq, computed_at, depth, format, document) values (?, ?, ?, ?, ?, ?, ?)
    on conflict (build_key) do update set revision = excluded.revision, log_seq = excluded.log_seq,
      computed_at = excluded.computed_at, depth = excluded.depth, format = excluded.format, document = excluded.document`);
  const pieces = db.prepare('select packed from forecast_pieces where build_key = ? order by number').pluck();
  const dropPieces = db.prepare('delete from forecast_pieces where build_key = ?');
  const addPiece = db.prepare('insert into forecast_pieces (build_key, number, packed) values (?, ?, ?)');
  const addTurn = addingTurn(db);

  const keep = db.transaction(
    (key: number, kept: KeptForecast, packed: readonly Uint8Array[], after: TurnAfter | null): void => {
      put.run(key, kept.revision, kept.logSeq, kept.computedAt, kept.depth, FORECAST_FORMAT, IN_PIECES);
      dropPieces.run(key);
      for (const [i, piece] of packed.entries()) addPiece.run(key, i + 1, piece);
      if (after) addTurn(key, null, after, 0);
    },
  );

  return {
    last: (key) => {
      const row = last.get(key) as KeptRow | undefined;
      if (!row) return null;
      const { document, format, ...rest } = row;
      const forecast =
        document === IN_PIECES
          ? joined((pieces.all(key) as Uint8Array[]).map(unpacked))
          : (JSON.parse(document) as Forecast);
      return { ...rest, forecast, current: format === FORECAST_FORMAT };
    },
    pieces: (key) => pieces.all(key) as Uint8Array[],
    head: (key) => {
      const row = head.get(key) as Omit<KeptRow, 'document'> | undefined;
      if (!row) return null;
      const { format, ...rest } = row;
      return { ...rest, current: format === FORECAST_FORMAT };
    },
    keep: (key, kept, turn, former = null) => {
      const packed = packedPieces(kept.forecast);
      disk.unawaited(() => keep.immediate(key, kept, packed, turn && { turn, former }));
    },
  };
}

/** History: a turn for each forecast that changed the answer. */
function turnsOf(db: Db, disk: Pick<Disk, 'unawaited'>): Omit<ForecastStore, keyof LastForecasts> {
  const columns = `number, computed_at as computedAt, revision, log_seq as logSeq, cause, facts, who,
    ready_at as readyAt, room_minutes as roomMinutes, chance, parts, rebuilt`;
  const history = db.prepare(`select ${columns} from forecast_history where build_key = ? order by number`);
  const turnsFrom = db.prepare(`
    select ${columns} from forecast_history where build_key = :key and number >= coalesce(
      (select max(number) from forecast_history where build_key = :key and computed_at <= :instant), 1)
    order by number`);
  const setParts = db.prepare('update forecast_history set parts = ? where build_key = ? and number = ?');
  const dropFormer = db.prepare('delete from forecast_formers where build_key = ? and number = ?');
  const pending = db.prepare(`
    select number, id as former from forecast_formers
     where build_key = ? and id not in (select value from json_each(?)) order by number limit 1`);
  const former = db.prepare('select former from forecast_formers where id = ?').pluck();
  const shifts = ['forecast_history', 'forecast_formers'].map((table) =>
    db.prepare(`update ${table} set number = number + ? where build_key = ?`),
  );
  const turn = db.prepare(`select ${columns} from forecast_history where build_key = ? and number = ?`);
  const lastTurn = db.prepare(`
    select ${columns} from forecast_history where build_key = ? order by number desc limit 1`);
  const addTurn = addingTurn(db);
  const addFormer = addingFormer(db);

  /** In two strides, for no two rows may have one number on the way. */
  const prepend = db.transaction((key: number, past: readonly TurnAfter[], text: string | null): void => {
    for (const shift of shifts) {
      shift.run(BEYOND_ALL, key);
      shift.run(past.length - BEYOND_ALL, key);
    }
    dropFormer.run(key, past.length + 1);
    addFormer(key, past.length + 1, text);
    for (const [i, one] of past.entries()) addTurn(key, i + 1, one, 1);
  });
  const attribute = db.transaction((key: number, number: number, parts: readonly LedgerPart[]): void => {
    setParts.run(JSON.stringify(parts), key, number);
    dropFormer.run(key, number);
  });

  return {
    history: (key) => (history.all(key) as TurnRow[]).map(readTurn),
    turnsFrom: (key, instant) => (turnsFrom.all({ key, instant }) as TurnRow[]).map(readTurn),
    turn: (key, number) => readOne(turn.get(key, number)),
    lastTurn: (key) => readOne(lastTurn.get(key)),
    attribute: (key, number, parts) => disk.unawaited(() => attribute.immediate(key, number, parts)),
    pending: (key, except) => (pending.get(key, JSON.stringify(except)) as PendingTurn | undefined) ?? null,
    former: (id) => (former.get(id) as string | undefined) ?? null,
    prepend: (key, past, former) => disk.unawaited(() => prepend.immediate(key, past, former)),
  };
}

/** Puts a turn under its number, or under the next where it has none. */
function addingTurn(db: Db) {
  const next = db.prepare('select coalesce(max(number), 0) + 1 from forecast_history where build_key = ?').pluck();
  const add = db.prepare(`
    insert into forecast_history
      (build_key, number, computed_at, revision, log_seq, cause, facts, who, ready_at, room_minutes, chance, rebuilt)
    values (:key, :number, :computedAt, :revision, :logSeq, '', :facts, :who, :readyAt, :roomMinutes, :chance,
      :rebuilt)`);
  const addFormer = addingFormer(db);
  return (key: number, asked: number | null, { turn, former }: TurnAfter, rebuilt: 0 | 1): void => {
    const number = asked ?? (next.get(key) as number);
    const { cause, ...row } = turn;
    add.run({ key, number, ...row, facts: JSON.stringify(cause), rebuilt });
    addFormer(key, number, former);
  };
}

/** Puts the plan that stood before a turn beside it, where its parts are to be worked out. */
function addingFormer(db: Db) {
  const add = db.prepare('insert into forecast_formers (build_key, number, former) values (?, ?, ?)');
  return (key: number, number: number, former: string | null): void => {
    if (former !== null) add.run(key, number, former);
  };
}

/** Stands for a document that is kept in pieces. */
const IN_PIECES = '{}';
const BEYOND_ALL = 1_000_000_000;

type KeptRow = Omit<KeptForecast, 'forecast'> & { readonly document: string; readonly format: number };
type TurnRow = Omit<Turn, 'cause' | 'parts' | 'rebuilt'> & {
  readonly cause: string;
  readonly facts: string | null;
  readonly parts: string | null;
  readonly rebuilt: 0 | 1;
};

function readOne(row: unknown): Turn | null {
  return row === undefined ? null : readTurn(row as TurnRow);
}

function readTurn({ cause, facts, parts, rebuilt, ...turn }: TurnRow): Turn {
  return {
    ...turn,
    cause: facts === null ? causeOfLine(cause) : (JSON.parse(facts) as TurnCause),
    parts: parts === null ? null : (JSON.parse(parts) as LedgerPart[]).map(readPart),
    rebuilt: rebuilt === 1,
  };
}

/** An edit is named by its number alone; an earlier program wrote `edit 3`. */
function readPart(part: LedgerPart): LedgerPart {
  const [, edit] = (part.kind === 'edit' && /^edit (\d+)$/.exec(part.subject ?? '')) || [];
  return edit === undefined ? part : { ...part, subject: edit };
}
