import { describe, expect, it } from 'vitest';
import { createStore } from '../../server/store/index.ts';
import { ARRIVED, lantern, openDb, SAVED, tap } from './helpers.ts';

function logOfLantern() {
  const db = openDb();
  const store = createStore(db);
  return { db, store, log: store.log, key: store.builds.create(lantern(), SAVED).key };
}

describe('the log', () => {
  it('numbers entries in order of arrival and gives them back as sent', () => {
    const { log, key } = logOfLantern();
    log.append(key, [tap('entry-0001', { who: 'Ana' })], ARRIVED);
    log.append(key, [tap('entry-0002', { n: 5 })], '2026-11-30T11:00:00Z');
    expect(log.since(key)).toEqual([
      { ...tap('entry-0001', { who: 'Ana' }), arrived: ARRIVED, seq: 1 },
      { ...tap('entry-0002', { n: 5 }), arrived: '2026-11-30T11:00:00Z', seq: 2 },
    ]);
    expect(log.since(key, 1).map((e) => e.seq)).toEqual([2]);
    expect(log.find(key, 'entry-0002')?.n).toBe(5);
    expect(log.find(key, 'entry-0003')).toBeNull();
  });

  it('counts an entry once however often it is sent', () => {
    const { log, key } = logOfLantern();
    expect(log.append(key, [tap('entry-0001')], ARRIVED)).toEqual([{ state: 'stored', seq: 1 }]);
    expect(log.append(key, [tap('entry-0001'), tap('entry-0001')], ARRIVED)).toEqual([
      { state: 'known', seq: 1 },
      { state: 'known', seq: 1 },
    ]);
    expect(log.since(key)).toHaveLength(1);
  });

  it('counts an entry once that comes twice in one request', () => {
    const { log, key } = logOfLantern();
    expect(log.append(key, [tap('entry-0001'), tap('entry-0001')], ARRIVED).map((a) => a.state)).toEqual([
      'stored',
      'known',
    ]);
  });

  it('reports an id that was used for something else and keeps the first', () => {
    const { log, key } = logOfLantern();
    log.append(key, [tap('entry-0001', { n: 5 })], ARRIVED);
    const [outcome] = log.append(key, [tap('entry-0001', { n: 6 })], ARRIVED);
    expect(outcome).toMatchObject({ state: 'taken', seq: 1, by: { n: 5 } });
    expect(log.since(key).map((e) => e.n)).toEqual([5]);
  });

  it('knows an entry again though its clock correction came out a minute different', () => {
    const { log, key } = logOfLantern();
    const phoneAt = '2026-11-30T08:00:00Z';
    log.append(key, [tap('entry-0001', { phoneAt, at: '2026-11-30T10:00:00Z' })], ARRIVED);
    const again = tap('entry-0001', { phoneAt, at: '2026-11-30T10:01:00Z', who: 'Ana' });
    expect(log.append(key, [again], ARRIVED)[0]!.state).toBe('known');
  });

  it('keeps the same id on two builds apart', () => {
    const { store, log, key } = logOfLantern();
    const other = store.builds.create(lantern({ id: 'arch' }), SAVED).key;
    log.append(key, [tap('entry-0001')], ARRIVED);
    expect(log.append(other, [tap('entry-0001', { n: 9 })], ARRIVED)).toEqual([{ state: 'stored', seq: 1 }]);
  });

  it('stores all entries of a request or none', () => {
    const { log, key } = logOfLantern();
    const endless: Record<string, unknown> = { ...tap('entry-0002') };
    endless.self = endless;
    expect(() => log.append(key, [tap('entry-0001'), endless as never], ARRIVED)).toThrow();
    expect(log.since(key)).toEqual([]);
  });

  it('lets nobody change or delete an entry, not even by SQL', () => {
    const { db, log, key } = logOfLantern();
    log.append(key, [tap('entry-0001')], ARRIVED);
    expect(() => db.exec("update log set entry = '{}'")).toThrow('the log is only appended to');
    expect(() => db.exec('delete from log')).toThrow('the log is only appended to');
    for (const row of ["seq, id || 'x'", 'seq + 1, id']) {
      const sql = `insert or replace into log select build_key, ${row}, 'x', entry from log`;
      expect(() => db.exec(sql)).toThrow('the log is only appended to');
    }
    expect(log.since(key)).toHaveLength(1);
  });

  it('takes entries from a file with the instants at which they once arrived', () => {
    const { log, key } = logOfLantern();
    log.bring(key, [{ ...tap('entry-0001'), arrived: '2026-11-01T00:00:00Z', seq: 7 }, tap('entry-0002')], ARRIVED);
    expect(log.since(key).map((e) => [e.id, e.seq, e.arrived])).toEqual([
      ['entry-0001', 1, '2026-11-01T00:00:00Z'],
      ['entry-0002', 2, ARRIVED],
    ]);
  });

  it('undoes what was done together when a part of it fails', () => {
    const { store, log, key } = logOfLantern();
    expect(() =>
      store.together(() => {
        log.append(key, [tap('entry-0001')], ARRIVED);
        throw new Error('power cut');
      }),
    ).toThrow('power cut');
    expect(log.since(key)).toEqual([]);
  });
});
