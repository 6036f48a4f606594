import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createPlanner } from '../../server/planner/index.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { buildApp } from '../../server/web/app.ts';
import { quickly, SHORT_PAUSES } from '../planner/at-once.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { type FakeApp, fakeApp } from '../support/fake-app.ts';
import { FAKE_NOW } from '../support/fake-forecast.ts';

let fake: FakeApp;
beforeAll(async () => {
  fake = await fakeApp();
});
afterAll(() => fake.close());

const get = async (path: string) => (await fake.app.inject({ url: `/b/tide-wall${path}` })).body;
const words = (html: string) =>
  html
    .replaceAll('\u00a0', ' ')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

describe('the burn-down of a step', () => {
  it('says what is left, against the first plan, the paces, and the hour of the last unit with its 10 to 90', async () => {
    const text = words(await get('/steps/paint-fish'));
    expect(text).toContain('left 96 of 120 × fish');
    expect(text).toContain('first plan 6 × fish behind it, which had 90 left at this point');
    expect(text).toContain(
      'last unit, even chance Thu 3 Dec 13:40 in 80 of 100 runs between Wed 2 Dec 13:40 and Fri 4 Dec 13:40',
    );
    expect(text).toContain('pace so far 11 an hour pace needed 14 an hour slower than needed');
  });

  it('says which plan the count is compared with', async () => {
    expect(words(await get('/steps/paint-fish'))).toMatch(
      /which had 90 left at this point edit 1, \w{3} \d+ Nov \d\d:\d\d, as estimated then/,
    );
  });

  it('stands in figures too, day by day, for those who do not see the picture', async () => {
    const text = words(await get('/steps/paint-fish'));
    expect(text).toContain('Day counted left first plan at best even chance at worst');
    expect(text).toMatch(/Wed 25 Nov 96 \d+ 96 96 96/);
  });

  it('draws the fan, its middle, and the caret of the last unit', async () => {
    const html = await get('/steps/paint-fish');
    expect(html).toMatch(/class="plot-fan"><path class="fan-body" d="M/);
    expect(html).toMatch(/class="pen-middle" d="M/);
    expect(words(html)).toContain('last unit Thu 3 Dec 13:40');
  });

  it('can be picked from every sheet of pictures by a plain link', async () => {
    for (const path of ['/burn-down', '/balance', '/steps/press']) {
      expect(await get(path)).toContain('<a href="/b/tide-wall/steps/paint-fish"');
    }
    expect(await get('/steps')).toContain('<a class="day-link" href="/b/tide-wall/steps/paint-fish"');
  });

  it('of a step that is not there is answered with a sentence', async () => {
    const answer = await fake.app.inject({ url: '/b/tide-wall/steps/nothing' });
    expect([answer.statusCode, words(answer.body)]).toEqual([
      404,
      expect.stringContaining('The plan has no step “nothing”; choose one on Steps.'),
    ]);
  });
});

describe('which step waits for which', () => {
  it('is a link away on Countdown, Steps, Contents and the sheet of each step', async () => {
    for (const path of ['', '/steps', '/contents']) expect(await get(path)).toContain('href="/b/tide-wall/waits"');
    const step = await get('/steps/press');
    expect(step).toContain('<a href="/b/tide-wall/waits?around=press">What it waits for, and what waits for it</a>');
  });

  it('leads from each box to its ticket, and around a step shows what touches it', async () => {
    const html = await get('/waits?around=press');
    expect(html).toContain('href="/b/tide-wall/steps/press#name-press"');
    expect(await get('/steps/press')).toContain('id="name-press"');
    expect(words(html)).toMatch(/Steps shown: \d of \d+, around /);
  });

  it('of a step that is not there is answered with a sentence', async () => {
    const answer = await fake.app.inject({ url: '/b/tide-wall/waits?around=nothing' });
    expect([answer.statusCode, words(answer.body)]).toEqual([
      404,
      expect.stringContaining('The plan has no step “nothing”; choose one on Steps.'),
    ]);
  });
});

describe('the line of balance', () => {
  it('says what runs out, when and for how long, and names the greatest pile', async () => {
    const text = words(await get('/balance'));
    expect(text).toContain(
      'press bushings runs out of bushing tomorrow 10:12: 3 h of work lost; 2 times, 5 h altogether.',
    );
    expect(text).toContain('At most 40 × fish pile up before press bushings, Fri 27 Nov 10:12.');
  });

  it('stands in figures too, day by day, each step in its own units', async () => {
    const text = words(await get('/balance'));
    expect(text).toContain('Day print bushings paint fish, three coats press bushings');
    expect(text).toContain('Wed 25 Nov 80 28 12 Thu 26 Nov');
  });

  it('names its lines by the numbers of their tickets', async () => {
    const html = await get('/balance');
    const drawn = [...html.matchAll(/class="balloon-number"[^>]*>(\d+)</g)].map((match) => match[1]);
    expect(drawn).toEqual(['2', '4', '5']);
  });

  it('says of each step how many are due and how many have passed, short ones with a word and a shape', async () => {
    const html = await get('/balance');
    const row = (id: string) => html.split('class="status-rows"')[1]!.split(`/steps/${id}"`)[1]!.split('</li>')[0]!;
    expect(row('paint-fish')).toContain('class="due threat"');
    expect(words(row('paint-fish'))).toContain('12 short: 40 due by now');
    expect(row('paint-fish')).toContain('class="short"');
    expect(words(row('press'))).toContain('12 of 76');
    expect(words(row('press'))).toContain('6 due by now, enough until tomorrow 10:12');
  });

  it('stands on the Countdown with how many steps are short', async () => {
    expect(words(await get(''))).toContain('Line of balance 1 step is short of its notch');
  });
});

describe('while futures are drawn anew', () => {
  it('those of before are drawn with lifted pens and said to be of before', async () => {
    expect(words(await get('/steps/paint-fish'))).not.toContain('drawn anew');
    fake.tune({ oldRisk: true });
    await editBy(fake.planner, 'tide-wall', (build) => {
      build.note = 'cut more herring';
    });
    const html = await get('/steps/paint-fish');
    expect(words(html)).toContain('and Fri 4 Dec 13:40 (as of today 09:52; updating…)');
    expect(html).toContain('class="plot-fan old"');
    expect(html).toContain('class="plot-last old"');
    expect(await get('')).toContain('class="rule-spread old"');
  });
});

it('an order has no pace on its burn-down: it is here or it is not', async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const planner = createPlanner({
    store: createStore(db.value),
    now: () => FAKE_NOW,
    background: quickly,
    pauses: SHORT_PAUSES,
  });
  const { build, log = [] } = tideWall(FAKE_NOW);
  await planner.create(build, log, 'maker');
  const app = await buildApp({ planner, now: () => FAKE_NOW });
  const [order, step] = await Promise.all(
    ['mill-panels', 'mount-fish'].map(async (id) => words((await app.inject(`/b/tide-wall/steps/${id}`)).body)),
  );
  expect(order).toContain('3 of 3 × panel first plan');
  expect(order).not.toMatch(/pace needed|pace so far|slower than needed/);
  expect(step).toContain('pace needed');
  await app.close();
});
