/** The log: only ever appended to; an entry's id is made by the phone, so sending twice counts once. */
import type { LogEntry, NewLogEntry, Said, Sentence } from '../model/index.ts';
import type { Db } from './open.ts';

/**
 * What became of one entry: appended under a number, there already with the same content, or its id is taken by
 * another.
 */
export type Appended =
  | { readonly state: 'stored'; readonly seq: number }
  | { readonly state: 'known'; readonly seq: number }
  | { readonly state: 'taken'; readonly seq: number; readonly by: LogEntry };

/** A question about an entry that is kept all the same; `other`: the id of the second entry that it is about. */
export interface Doubt {
  readonly entry: string;
  readonly question: Said;
  readonly other: string | null;
}

export interface LogStore {
  /** All entries in order of arrival, or those after `seq`; `most` of them, if that is given. */
  since(key: number, seq?: number, most?: number): LogEntry[];
  find(key: number, id: string): LogEntry | null;
  /** One transaction: either all of them are on the disk when it returns, or it throws and none is. */
  append(key: number, entries: readonly NewLogEntry[], arrived: string): Appended[];
  /**
   * Entries from a file, with the instants at which they once arrived; they get the numbers 1, 2, 3 … in this order.
   */
  bring(key: number, entries: readonly LogEntry[], arrived: string): void;
  /** Keeps what is asked about entries; the same question is kept once. */
  ask(key: number, doubts: readonly Doubt[]): void;
  /** All that was ever asked, answered or not. */
  doubts(key: number): Doubt[];
}

/** The questions about logs that the database answers. */
export function createLogStore(db: Db): LogStore {
  const since = db.prepare('select seq, arrived, entry from log where build_key = ? and seq > ? order by seq limit ?');
  const find = db.prepare('select seq, arrived, entry from log where build_key = ? and id = ?');
  const lastSeq = db.prepare('select coalesce(max(seq), 0) from log where build_key = ?').pluck();
  const insert = db.prepare('insert into log (build_key, seq, id, arrived, entry) values (?, ?, ?, ?, ?)');
  const ask = db.prepare(`
    insert into doubts (build_key, entry_id, question, sentence, other_id) values (?, ?, ?, ?, ?) on conflict do nothing`);
  const doubts = db.prepare(`
    select d.entry_id as entry, d.question, d.sentence, d.other_id as other
      from doubts d join log l on l.build_key = d.build_key and l.id = d.entry_id
     where d.build_key = ? order by l.seq`);

  const append = db.transaction((key: number, entries: readonly NewLogEntry[], arrived: string): Appended[] => {
    let seq = lastSeq.get(key) as number;
    return entries.map((entry): Appended => {
      const there = find.get(key, entry.id) as Row | undefined;
      if (there) {
        const by = read(there);
        return sameContent(by, entry) ? { state: 'known', seq: there.seq } : { state: 'taken', seq: there.seq, by };
      }
      seq += 1;
      insert.run(key, seq, entry.id, arrived, JSON.stringify(entry));
      return { state: 'stored', seq };
    });
  });
  const bring = db.transaction((key: number, entries: readonly LogEntry[], arrivedNow: string): void => {
    let last = lastSeq.get(key) as number;
    for (const { seq: _, arrived, ...entry } of entries) {
      last += 1;
      insert.run(key, last, entry.id, arrived ?? arrivedNow, JSON.stringify(entry));
    }
  });

  return {
    since: (key, seq = 0, most = NO_LIMIT) => (since.all(key, seq, most) as Row[]).map(read),
    find: (key, id) => {
      const row = find.get(key, id) as Row | undefined;
      return row ? read(row) : null;
    },
    append: (key, entries, arrived) => append.immediate(key, entries, arrived),
    bring: (key, entries, arrived) => bring.immediate(key, entries, arrived),
    ask: (key, asked) => {
      for (const { entry, question, other } of asked) ask.run(key, entry, ...saidColumns(question), other);
    },
    doubts: (key) => (doubts.all(key) as DoubtRow[]).map(readDoubt),
  };
}

interface DoubtRow {
  readonly entry: string;
  readonly question: string;
  readonly sentence: string | null;
  readonly other: string | null;
}

function saidColumns({ message, sentence }: Said): [string, string | null] {
  return [message, sentence === undefined ? null : JSON.stringify(sentence)];
}

function readDoubt({ entry, question, sentence, other }: DoubtRow): Doubt {
  const facts = sentence === null ? {} : { sentence: JSON.parse(sentence) as Sentence };
  return { entry, question: { message: question, ...facts }, other };
}

/**
 * Whether two entries of one id say the same. The moment is compared as the phone's own clock told it, for its
 * correction may come out a little different when an entry is sent again; and who sent it is the session's word, not
 * the entry's.
 */
export function sameContent(a: NewLogEntry, b: NewLogEntry): boolean {
  return fingerprint(a) === fingerprint(b);
}

function fingerprint(entry: NewLogEntry): string {
  const { kind, step, set, n, counted, person, machine, until, undoes, confirms, reason, note, box } = entry;
  const moment = entry.phoneAt ?? entry.at;
  return JSON.stringify([
    kind,
    step,
    set,
    n,
    counted,
    moment,
    person,
    machine,
    until,
    undoes,
    confirms,
    reason,
    note,
    box,
  ]);
}

/** As SQLite has it. */
const NO_LIMIT = -1;

interface Row {
  readonly seq: number;
  readonly arrived: string;
  readonly entry: string;
}

/**
 * Fields are added to what was parsed: a copy of it would be an object whose fields are looked up five times slower.
 */
function read({ seq, arrived, entry }: Row): LogEntry {
  return Object.assign(JSON.parse(entry) as NewLogEntry, { arrived, seq });
}
