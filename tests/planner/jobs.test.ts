import { describe, expect, it } from 'vitest';
import { createJobs, type Jobs } from '../../server/planner/background/jobs.ts';
import { type Hand, LeftOff, SIGNAL } from '../../server/planner/background/tasks.ts';
import type { JobKind, Version } from '../../server/planner/index.ts';

const at = (logSeq: number): Version => ({ revision: 1, logSeq });

interface Running {
  readonly name: string;
  readonly hand: Hand;
  end(value?: unknown): Promise<void>;
  fail(error: unknown): Promise<void>;
}

/** A queue whose jobs end when the test says so; `begun`: in the order of their beginning. */
function queue(hands = 1) {
  const heard: string[] = [];
  const jobs = createJobs(hands, (build) => heard.push(build));
  const begun: Running[] = [];
  const ask = (
    kind: JobKind,
    build: string,
    logSeq = 1,
    more: { lasting?: boolean; isWanted?: () => boolean } = {},
  ) => {
    const name = `${kind} ${build} ${logSeq}`;
    const run = (hand: Hand): Promise<unknown> =>
      new Promise((resolve, reject) => {
        const turn = () => new Promise<void>((done) => setTimeout(done, 0));
        begun.push({
          name,
          hand,
          end: (value = name) => {
            resolve(value);
            return turn();
          },
          fail: (error) => {
            reject(error);
            return turn();
          },
        });
      });
    return jobs.ask({ kind, build, version: at(logSeq), run, ...more });
  };
  return { jobs, ask, begun, heard, names: () => begun.map(({ name }) => name) };
}

async function endAll(begun: readonly Running[]): Promise<void> {
  for (let i = 0; i < begun.length; i++) await begun[i]!.end();
}

const signalOf = ({ hand }: Running): number => Atomics.load(hand.signal, 0);

describe('the queue', () => {
  it('does the most urgent first: answer, search, what-if, ledger, past; of one kind the oldest', async () => {
    const { ask, begun, names } = queue();
    void ask('answer', 'first');
    for (const kind of ['past', 'ledger', 'what-if', 'search', 'answer'] as const)
      void ask(kind, 'a', 1, { lasting: true });
    void ask('search', 'b');
    void ask('answer', 'b');
    await endAll(begun);
    expect(names()).toEqual([
      'answer first 1',
      'answer a 1',
      'answer b 1',
      'search a 1',
      'search b 1',
      'what-if a 1',
      'ledger a 1',
      'past a 1',
    ]);
  });

  it('does as many jobs at a time as it has hands', async () => {
    const { ask, begun, names } = queue(2);
    for (const build of ['a', 'b', 'c']) void ask('answer', build);
    expect(names()).toHaveLength(2);
    await begun[0]!.end();
    expect(names()).toHaveLength(3);
  });

  it('answers with what the work gives, and rejects with what it fails of', async () => {
    const { ask, begun, jobs } = queue();
    const [good, bad] = [ask('answer', 'a'), ask('answer', 'b')];
    await begun[0]!.end(42);
    expect(await good).toBe(42);
    const failed = expect(bad).rejects.toThrow('out of memory');
    await begun[1]!.fail(new Error('out of memory'));
    await failed;
    await jobs.settled();
  });
});

describe('what is out of date', () => {
  it('is dropped while it waits, once something newer of its build is asked for', async () => {
    const { ask, begun, names } = queue();
    void ask('answer', 'other');
    const [answer, search, check] = [
      ask('answer', 'a', 1),
      ask('search', 'a', 1),
      ask('ledger', 'a', 1, { lasting: true }),
    ];
    void ask('answer', 'a', 2);
    expect(await answer).toBeNull();
    expect(await search).toBeNull();
    await endAll(begun);
    expect(names()).toEqual(['answer other 1', 'answer a 2', 'ledger a 1']);
    expect(await check).toBe('ledger a 1');
  });

  it('is dropped when its turn comes and it is not wanted any more', async () => {
    const { ask, begun, names } = queue();
    void ask('answer', 'other');
    let wanted = true;
    const search = ask('search', 'a', 1, { isWanted: () => wanted });
    wanted = false;
    await endAll(begun);
    expect(await search).toBeNull();
    expect(names()).toEqual(['answer other 1']);
  });

  it('asked for twice is done once', async () => {
    const { ask, begun, names } = queue();
    const both = [ask('answer', 'a', 1), ask('answer', 'a', 1)];
    await endAll(begun);
    expect(await Promise.all(both)).toEqual(['answer a 1', 'answer a 1']);
    expect(names()).toHaveLength(1);
  });

  it('goes with its build', async () => {
    const { ask, begun, jobs } = queue();
    const [search, past] = [ask('search', 'a'), ask('past', 'a', 1, { lasting: true })];
    jobs.drop('a');
    expect(await past).toBeNull();
    expect(signalOf(begun[0]!)).toBe(SIGNAL.leave);
    await begun[0]!.fail(new LeftOff());
    expect(await search).toBeNull();
    await jobs.settled();
  });
});

describe('giving way', () => {
  it('lets a newer answer before a search, which is out of date then', async () => {
    const { ask, begun, names } = queue();
    const search = ask('search', 'a', 1);
    const answer = ask('answer', 'a', 2);
    expect(signalOf(begun[0]!)).toBe(SIGNAL.leave);
    await begun[0]!.fail(new LeftOff());
    expect(await search).toBeNull();
    await begun[1]!.end();
    expect(await answer).toBe('answer a 2');
    expect(names()).toEqual(['search a 1', 'answer a 2']);
  });

  it('has what is still of the present state begin again afterwards', async () => {
    const { ask, begun, names } = queue();
    const past = ask('past', 'a', 1, { lasting: true });
    void ask('answer', 'b');
    await begun[0]!.fail(new LeftOff());
    expect(names()).toEqual(['past a 1', 'answer b 1']);
    await begun[1]!.end();
    expect(signalOf(begun[2]!)).toBe(SIGNAL.goOn);
    await begun[2]!.end();
    expect(await past).toBe('past a 1');
  });

  it('is not asked of what is as urgent or more so', async () => {
    const { ask, begun } = queue();
    void ask('answer', 'a', 1);
    void ask('answer', 'a', 2);
    void ask('search', 'b', 1);
    expect(signalOf(begun[0]!)).toBe(SIGNAL.goOn);
  });

  it('keeps the answer of what was done before it heard', async () => {
    const { ask, begun } = queue();
    const search = ask('search', 'a', 1);
    void ask('answer', 'b', 1);
    await begun[0]!.end();
    expect(await search).toBe('search a 1');
  });

  it('ends: a job that gave way often in a row is done to its end while answers rain', async () => {
    const { ask, begun, names } = queue();
    const search = ask('search', 'a', 0);
    let told = 0;
    for (let tap = 1; tap <= 20; tap++) {
      const running = begun.at(-1)!;
      void ask('answer', 'b', tap);
      if (signalOf(running) === SIGNAL.leave) {
        told += 1;
        await running.fail(new LeftOff());
        await begun.at(-1)!.end();
      }
    }
    expect(told).toBe(8);
    expect(names().at(-1)).toBe('search a 0');
    await begun.at(-1)!.end();
    expect(await search).toBe('search a 0');
  });

  it('takes a job that fails by itself for failed', async () => {
    const { ask, begun } = queue();
    const search = ask('search', 'a', 1);
    const failed = expect(search).rejects.toThrow('out of memory');
    await begun[0]!.fail(new Error('out of memory'));
    await failed;
  });
});

describe('a job that is shown', () => {
  const numbers = (jobs: Jobs) => jobs.list().map(({ job }) => job);

  it('says its kind, build and version, and how far it is', async () => {
    const { ask, begun, jobs } = queue();
    void ask('search', 'a', 7);
    void ask('past', 'b', 2, { lasting: true });
    begun[0]!.hand.progress(30, 200);
    const common = { done: 0, total: 0 };
    expect(jobs.list()).toEqual([
      { job: 1, kind: 'search', build: 'a', version: at(7), isRunning: true, done: 30, total: 200 },
      { job: 2, kind: 'past', build: 'b', version: at(2), isRunning: false, ...common },
    ]);
    expect(jobs.list('b').map(({ kind }) => kind)).toEqual(['past']);
  });

  it('is heard of when it is asked for, begins, goes on, ends or is dropped', async () => {
    const { ask, begun, jobs, heard } = queue();
    const step = (): string[] => heard.splice(0);
    void ask('search', 'a');
    expect(step()).toEqual(['a', 'a']);
    void ask('search', 'b');
    expect(step()).toEqual(['b']);
    begun[0]!.hand.progress(1, 2);
    expect(step()).toEqual(['a']);
    jobs.stop(numbers(jobs)[1]!);
    expect(step()).toEqual(['b']);
    await begun[0]!.end();
    expect(step()).toEqual(['a']);
  });

  it('that gave way is as far as at its beginning', async () => {
    const { ask, begun, jobs } = queue();
    void ask('past', 'a', 1, { lasting: true });
    begun[0]!.hand.progress(1, 2);
    void ask('answer', 'b');
    await begun[0]!.fail(new LeftOff());
    expect(jobs.list('a')).toMatchObject([{ isRunning: false, done: 0, total: 0 }]);
    await endAll(begun.slice(1));
  });

  it('is stopped: a search ends with the best so far, a row of the past with nothing, what waits is dropped', async () => {
    const { ask, begun, jobs } = queue();
    const [search, waits] = [ask('search', 'a'), ask('search', 'b')];
    const [one, two] = numbers(jobs);
    expect([jobs.stop(one!), jobs.stop(two!), jobs.stop(99)]).toEqual([true, true, false]);
    expect(signalOf(begun[0]!)).toBe(SIGNAL.enough);
    await begun[0]!.end('best so far');
    expect([await search, await waits]).toEqual(['best so far', null]);
    const past = ask('past', 'a', 1, { lasting: true });
    jobs.stop(numbers(jobs)[0]!);
    await begun[1]!.fail(new LeftOff());
    expect(await past).toBeNull();
    await jobs.settled();
  });
});
