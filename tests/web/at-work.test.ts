import type { FastifyInstance } from 'fastify';
import { afterEach, describe, expect, it } from 'vitest';
import { LeftOff, SIGNAL } from '../../server/planner/background/tasks.ts';
import type { Background, Hand, PlanTask, RunningPlanner } from '../../server/planner/index.ts';
import { buildApp } from '../../server/web/app.ts';
import { bench, NOON, noonTap, simpleForecast } from '../planner/helpers.ts';
import { fakeApp } from '../support/fake-app.ts';
import { fakeBuild } from '../support/fake-build.ts';

const FAKE_ID = fakeBuild().id;
const PATH = '/b/lantern/at-work';

interface Job {
  readonly task: PlanTask;
  readonly hand: Hand;
  readonly go: () => void;
}

interface Desk {
  readonly app: FastifyInstance;
  readonly planner: RunningPlanner;
  /** The next search, once it is under way. */
  search(): Promise<Job>;
  readonly waiting: Job[];
}

const open: Desk[] = [];
afterEach(async () => {
  for (const { app, planner, waiting } of open.splice(0)) {
    planner.close();
    for (const { go } of waiting) go();
    await app.close();
  }
});

/** The lantern, whose first answers come at once and whose searches last until the test ends them. */
async function desk(): Promise<Desk> {
  const waiting: Job[] = [];
  const search: Background['plan'] = (task, hand) =>
    new Promise((resolve, reject) => {
      const go = (): void => resolve(simpleForecast(task.build, task.log, task.now));
      if (task.depth === 'quick') go();
      else {
        waiting.push({ task, hand, go });
        const leave = setInterval(() => {
          if (Atomics.load(hand.signal, 0) !== SIGNAL.leave) return;
          clearInterval(leave);
          waiting.splice(0);
          reject(new LeftOff());
        }, 1);
        leave.unref();
      }
    });
  const { planner } = await bench({ search });
  const app = await buildApp({ planner, now: () => NOON });
  const one: Desk = {
    app,
    planner,
    waiting,
    search: async () => {
      while (waiting.length === 0) await new Promise((resolve) => setTimeout(resolve, 1));
      return waiting[0]!;
    },
  };
  open.push(one);
  return one;
}

async function line({ app }: Desk, id = 'lantern'): Promise<string> {
  const { statusCode, body } = await app.inject({ url: `/b/${id}/at-work`, headers: PARTIAL });
  expect(statusCode).toBe(200);
  return textOf(body);
}

const PARTIAL = { 'hx-request-type': 'partial' };
const textOf = (html: string): string =>
  html
    .replaceAll('\u00a0', ' ')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

function press({ app }: Desk, job: unknown, headers: Record<string, string> = PARTIAL) {
  const payload = new URLSearchParams(job === undefined ? {} : { job: String(job) }).toString();
  const type = { 'content-type': 'application/x-www-form-urlencoded' };
  return app.inject({ method: 'POST', url: PATH, payload, headers: { ...type, ...headers } });
}

describe('the line of background work', () => {
  it('says what is being worked out and how far it is, and nothing when all is done', async () => {
    const one = await desk();
    const { hand, go } = await one.search();
    expect(await line(one)).toBe('Working on a better sequence. Stop, keep the best so far');
    hand.progress(40, 200);
    expect(await line(one)).toBe('Working on a better sequence, 20 %. Stop, keep the best so far');
    hand.progress(200, 200);
    expect(await line(one)).toContain(', 99 %.');
    one.waiting.splice(0);
    go();
    await one.planner.settled();
    expect(await line(one)).toBe('');
  });

  it('says of work that waits for that of another build what it will be, and how much more waits', async () => {
    const one = await desk();
    await one.search();
    const { build } = one.planner.build('lantern')!;
    expect((await one.planner.create({ ...build, id: 'other', name: 'Other' }, [], 'maker')).ok).toBe(true);
    while (!(await line(one, 'other')).includes('Next:')) await new Promise((resolve) => setTimeout(resolve, 1));
    expect(await line(one, 'other')).toBe('Next: a better sequence. Stop');
    expect(await line(one)).toContain('Working on');
  });

  it('stands in every page, apart from the sheet, and listens to the stream', async () => {
    const one = await fakeApp();
    for (const path of ['', '/steps', '/history', '/ledger']) {
      const { body } = await one.app.inject({ url: `/b/${FAKE_ID}${path}` });
      const after = body.slice(body.indexOf('</main>'));
      expect(after).toContain(`<div id="at-work" hx-get="/b/${FAKE_ID}/at-work" hx-trigger="work from:#live"`);
    }
    await one.close();
  });
});

describe('its button', () => {
  it('ends a search, which then is as good as it was by then', async () => {
    const one = await desk();
    const { hand } = await one.search();
    const [shown] = one.planner.jobs('lantern');
    const { statusCode } = await press(one, shown!.job);
    expect(statusCode).toBe(200);
    expect(Atomics.load(hand.signal, 0)).toBe(SIGNAL.enough);
  });

  it('leads back to the build where the page has no scripts', async () => {
    const one = await desk();
    await one.search();
    const { statusCode, headers } = await press(one, one.planner.jobs('lantern')[0]!.job, {});
    expect([statusCode, headers.location]).toEqual([303, '/b/lantern']);
  });

  it.each([[undefined], [''], ['0'], ['x'], ['99999'], ['1 or 1']])(
    'stops nothing for %j, and says so',
    async (job) => {
      const one = await desk();
      const { hand } = await one.search();
      const { statusCode, body } = await press(one, job);
      expect(statusCode).toBe(422);
      expect(textOf(body)).toContain('finished already, so there is nothing to stop. Working on');
      expect(Atomics.load(hand.signal, 0)).toBe(SIGNAL.goOn);
    },
  );

  it('stops nothing of another build, nothing that is over, and nothing of a build that is not there', async () => {
    const one = await desk();
    await one.search();
    const [shown] = one.planner.jobs('lantern');
    const { build } = one.planner.build('lantern')!;
    await one.planner.create({ ...build, id: 'other', name: 'Other' }, [], 'maker');
    const type = { 'content-type': 'application/x-www-form-urlencoded' };
    const ask = (id: string) =>
      one.app.inject({
        method: 'POST',
        url: `/b/${id}/at-work`,
        payload: `job=${shown!.job}`,
        headers: { ...type, ...PARTIAL },
      });
    expect([(await ask('other')).statusCode, (await ask('nothing')).statusCode]).toEqual([422, 404]);
    const { hand } = await one.search();
    expect(Atomics.load(hand.signal, 0)).not.toBe(SIGNAL.enough);
  });
});

describe('the stream', () => {
  it('tells of background work without naming a state, and once when nothing more has changed', async () => {
    const one = await desk();
    const { hand, go } = await one.search();
    const address = await one.app.listen({ port: 0, host: '127.0.0.1' });
    const stop = new AbortController();
    const answer = await fetch(`${address}/b/lantern/live`, {
      headers: { accept: 'text/event-stream' },
      signal: stop.signal,
    });
    const heard: string[] = [];
    const reading = (async () => {
      for await (const chunk of answer.body!) heard.push(Buffer.from(chunk).toString());
    })().catch(() => undefined);
    const said = () =>
      heard
        .join('')
        .split('\n\n')
        .filter((one) => one.includes('event: work'));
    const until = async (count: number): Promise<void> => {
      while (said().length < count) await new Promise((resolve) => setTimeout(resolve, 5));
    };
    await until(1);
    hand.progress(1, 2);
    hand.progress(1, 2);
    await until(2);
    one.waiting.splice(0);
    go();
    await until(3);
    expect(said().every((one) => !one.includes('id:'))).toBe(true);
    expect(said()).toHaveLength(3);
    stop.abort();
    await reading;
  });
});

describe('a tap', () => {
  it('shows no line for its first answer, for which the sheet itself says that it is coming', async () => {
    const one = await desk();
    const { go } = await one.search();
    one.planner.append('lantern', [noonTap({ n: 2 })], 'maker');
    const kinds = new Set<string>();
    one.planner.onChange(() => {
      for (const { kind } of one.planner.jobs('lantern')) kinds.add(kind);
    });
    one.waiting.splice(0);
    go();
    await one.search();
    expect([...kinds]).toContain('answer');
    expect(await line(one)).toContain('a better sequence');
  });
});
