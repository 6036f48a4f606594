/** The last forecast of each build, with what it was computed from, and the history of what gained or cost room. */
import type { Forecast } from '../model/index.ts';
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

/** One change of the answer. `roomMinutes` is the clock time to the ready-by, negative when late; `chance` is null where no risk was run. */
export interface Turn {
  readonly number: number;
  readonly computedAt: number;
  readonly revision: number;
  readonly logSeq: number;
  readonly cause: string;
  readonly readyAt: number | null;
  readonly roomMinutes: number | null;
  readonly chance: number | null;
}

export interface ForecastStore {
  last(key: number): KeptForecast | null;
  /** Keeps the forecast in the place of the last one and, if given, a row of history, in one transaction. */
  keep(key: number, kept: KeptForecast, turn: Omit<Turn, 'number'> | null): void;
  history(key: number): Turn[];
  lastTurn(key: number): Turn | null;
}

/** The questions about forecasts that the database answers. */
export function createForecastStore(db: Db): ForecastStore {
  const last = db.prepare(`
    select revision, log_seq as logSeq, computed_at as computedAt, depth, document from forecasts where build_key = ?`);
  const put = db.prepare(`
    insert into forecasts (build_key, revision, log_seq, computed_at, depth, document) values (?, ?, ?, ?, ?, ?)
    on conflict (build_key) do update set revision = excluded.revision, log_seq = excluded.log_seq,
      computed_at = excluded.computed_at, depth = excluded.depth, document = excluded.document`);
  const addTurn = db.prepare(`
    insert into forecast_history
      (build_key, number, computed_at, revision, log_seq, cause, ready_at, room_minutes, chance)
    values (?, (select coalesce(max(number), 0) + 1 from forecast_history where build_key = ?), ?, ?, ?, ?, ?, ?, ?)`);
  const columns = `number, computed_at as computedAt, revision, log_seq as logSeq, cause, ready_at as readyAt,
    room_minutes as roomMinutes, chance`;
  const history = db.prepare(`select ${columns} from forecast_history where build_key = ? order by number`);
  const lastTurn = db.prepare(`
    select ${columns} from forecast_history where build_key = ? order by number desc limit 1`);

  const keep = db.transaction((key: number, kept: KeptForecast, turn: Omit<Turn, 'number'> | null): void => {
    put.run(key, kept.revision, kept.logSeq, kept.computedAt, kept.depth, JSON.stringify(kept.forecast));
    if (!turn) return;
    const { computedAt, revision, logSeq, cause, readyAt, roomMinutes, chance } = turn;
    addTurn.run(key, key, computedAt, revision, logSeq, cause, readyAt, roomMinutes, chance);
  });

  return {
    last: (key) => {
      const row = last.get(key) as (Omit<KeptForecast, 'forecast'> & { document: string }) | undefined;
      if (!row) return null;
      const { document, ...rest } = row;
      return { ...rest, forecast: JSON.parse(document) as Forecast };
    },
    keep: (key, kept, turn) => keep.immediate(key, kept, turn),
    history: (key) => history.all(key) as Turn[],
    lastTurn: (key) => (lastTurn.get(key) as Turn | undefined) ?? null,
  };
}
