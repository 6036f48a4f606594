import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BUILD, type CountApp, countApp } from '../../support/count-app.ts';

let bench: CountApp;
let cookie: string;
beforeAll(async () => {
  bench = await countApp();
  cookie = bench.helperCookie('Ana');
});
afterAll(() => bench.close());

const plain = (html: string) => html.replaceAll(/<[^>]*>/g, ' ').replaceAll(/[\s\u00a0]+/g, ' ');
const state = () => ({ revision: bench.planner.build(BUILD)!.revision, entries: bench.planner.log(BUILD).length });

async function get(path: string) {
  return (await bench.app.inject({ url: `/b/${BUILD}${path}`, headers: { cookie } })).body;
}

async function makers(path: string) {
  return (await bench.app.inject({ url: `/b/${BUILD}${path}`, headers: { cookie: bench.makerCookie() } })).body;
}

async function post(fields: Record<string, string>) {
  const answer = await bench.app.inject({
    method: 'POST',
    url: `/b/${BUILD}/wrong`,
    payload: new URLSearchParams({ edit: String(state().revision), ...fields }).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded', cookie },
  });
  return { status: answer.statusCode, said: plain(answer.body), to: answer.headers.location };
}

describe('what goes wrong, for those who count along', () => {
  it('is one tap from their Count, with what they may tell and no way to the sheets of the maker', async () => {
    expect(await get('/count')).toContain(`href="/b/${BUILD}/wrong?open=machine#machine"`);
    expect(await get('/count')).not.toContain('wrong?open=load-in');
    const html = await get('/wrong');
    expect(plain(html)).toContain('Somebody cannot come');
    expect(plain(html)).not.toContain('The load-in moves');
    expect(html).not.toMatch(new RegExp(`href="/b/${BUILD}(/dates|/steps|/design)?"`));
    expect(html).toContain(`href="/b/${BUILD}/count"`);
  });

  it('goes into the log under their name: a machine that is down, an evening that is lost', async () => {
    const before = state();
    const until = '2026-11-27T18:00';
    const { machines = [] } = bench.planner.build(BUILD)!.build;
    const down = await post({ kind: 'machine', machine: machines[0]!.id, n: '1', until, do: 'tell' });
    expect([down.status, down.to]).toEqual([303, `/b/${BUILD}/count`]);
    expect(state()).toEqual({ revision: before.revision, entries: before.entries + 1 });
    expect(bench.planner.log(BUILD).at(-1)).toMatchObject({ kind: 'lost', machine: machines[0]!.id, who: 'Ana' });
  });

  it('is tried first by them too, and changes nothing then', async () => {
    const before = state();
    const { people = [] } = bench.planner.build(BUILD)!.build;
    const tried = await post({ kind: 'absent', person: people[0]!.id, first: '2026-12-01', last: '', do: 'what-if' });
    expect(tried.status).toBe(200);
    expect(state()).toEqual(before);
  });

  it('is days that differ where somebody cannot come, told by them in History', async () => {
    const before = state();
    const { people = [] } = bench.planner.build(BUILD)!.build;
    const told = await post({
      kind: 'absent',
      person: people[0]!.id,
      first: '2026-12-01',
      last: '2026-12-02',
      do: 'tell',
    });
    expect(told.status).toBe(303);
    expect(state()).toEqual({ revision: before.revision + 1, entries: before.entries });
    expect(bench.planner.revisions(BUILD).at(-1)).toMatchObject({ who: 'Ana' });
    const { exceptions = [] } = bench.planner.build(BUILD)!.build.people![0]!;
    expect(exceptions.map(({ date }) => date)).toContain('2026-12-01');
    const history = plain(await makers('/history'));
    expect(history).toContain('days that differ, added: Tue 1 Dec 2026, hours that day off');
    const hands = plain(await makers('/hands'));
    expect(hands).toContain('Tue 1 Dec 2026 off');
  });

  it('leaves to the maker what is the maker’s, with a sentence', async () => {
    const before = state();
    const moved = { kind: 'load-in', loadIn: '2026-12-01T09:00' };
    const more = { kind: 'more', name: 'flags', count: '3', minutes: '5' };
    for (const fields of [moved, more]) {
      for (const how of ['tell', 'what-if']) {
        const { status, said } = await post({ ...fields, do: how });
        expect(status).toBe(403);
        expect(said).toContain('Only the maker moves the load-in and takes on more; tell the maker.');
      }
    }
    expect(state()).toEqual(before);
  });
});
