import { expect, test, vi } from 'vitest';
import { fragmentInTurns, type Html, InTurns, ListInTurns, renderFragment } from '../../../views/render.ts';

/** Takes longer than half a turn. */
function Slow({ n }: { n: number }): Html {
  const until = performance.now() + 5;
  while (performance.now() < until);
  return <li value={n}>{`row ${n} & more`}</li>;
}

function Rows({ count }: { count: number }): Html {
  return (
    <ol>
      {Array.from({ length: count }, (_, n) => n).map((n) => (
        <InTurns key={n}>
          <Slow n={n} />
        </InTurns>
      ))}
    </ol>
  );
}

function Sheet({ count }: { count: number }): Html {
  return (
    <main>
      <Rows count={count} />
      <InTurns>
        <section>
          <Rows count={count} />
          the end
        </section>
      </InTurns>
      <svg aria-hidden="true">
        <InTurns>
          <path strokeWidth={2} d="M0 0" />
        </InTurns>
      </svg>
      <select value="b">
        <InTurns>
          <option value="b">B</option>
        </InTurns>
      </select>
    </main>
  );
}

const sheet = (count: number): Html => <Sheet count={count} />;

test('a sheet drawn in turns is the text that it is when it is drawn at once', async () => {
  const text = await fragmentInTurns(sheet(6));
  expect(text).toBe(renderFragment(sheet(6)));
  expect(text).toContain('<path stroke-width="2" d="M0 0">');
  expect(text).toContain('<option selected value="b">');
});

test('a long list is drawn in turns that are short, however many of its rows wait', async () => {
  const rows = Array.from({ length: 3_000 }, (_, n) => <li key={n}>{`row ${n}`}</li>);
  const list = (
    <ol>
      <ListInTurns>{rows}</ListInTurns>
    </ol>
  );
  // Each look at the clock finds the turn over, also one that began before this test: all that may wait does.
  let [clock, looks, most] = [Math.ceil(performance.now()), 0, 0];
  const clocked = vi.spyOn(performance, 'now').mockImplementation(() => {
    looks += 1;
    clock += 10;
    return clock;
  });
  const look = (): void => {
    most = Math.max(most, looks);
    looks = 0;
    again = setImmediate(look);
  };
  let again = setImmediate(look);
  const text = await fragmentInTurns(list);
  clearImmediate(again);
  clocked.mockRestore();
  // Until the turn that began by that clock is over.
  await new Promise((resolve) => setImmediate(() => setImmediate(resolve)));
  expect(text).toBe(renderFragment(list));
  expect(text.length).toBeGreaterThan(30_000);
  expect(most).toBeGreaterThan(10);
  expect(most).toBeLessThan(300);
});

test('others have their turns while sheets are drawn, and each sheet is whole', async () => {
  let turns = 0;
  let isDone = false;
  const count = (): void => {
    turns += 1;
    if (!isDone) setImmediate(count);
  };
  setImmediate(count);
  const texts = await Promise.all([fragmentInTurns(sheet(8)), fragmentInTurns(sheet(9))]);
  isDone = true;
  expect(turns).toBeGreaterThanOrEqual(8);
  expect(texts).toEqual([renderFragment(sheet(8)), renderFragment(sheet(9))]);
});

test('what goes wrong in a later turn is thrown to whoever asked', async () => {
  const Wrong = (): Html => {
    throw new Error('no such step');
  };
  const wrong = (
    <main>
      <Rows count={3} />
      <InTurns>
        <Wrong />
      </InTurns>
    </main>
  );
  await expect(fragmentInTurns(wrong)).rejects.toThrow('no such step');
});

test('what goes wrong in several turns is thrown once, and nothing of it ends the server', async () => {
  const WrongAfter = ({ n }: { n: number }): Html => {
    Slow({ n });
    throw new Error(`no such step ${n}`);
  };
  const wrong = (
    <main>
      <Rows count={3} />
      {[1, 2, 3, 4].map((n) => (
        <InTurns key={n}>
          <WrongAfter n={n} />
        </InTurns>
      ))}
      <WrongAfter n={5} />
    </main>
  );
  const unheard: unknown[] = [];
  const hear = (reason: unknown): void => {
    unheard.push(reason);
  };
  process.on('unhandledRejection', hear);
  await expect(fragmentInTurns(wrong)).rejects.toThrow('no such step');
  await new Promise((resolve) => setTimeout(resolve, 100));
  process.off('unhandledRejection', hear);
  expect(unheard).toEqual([]);
});

test('what was drawn of a very large sheet is gone through in turns too, cut in no mark', async () => {
  const rows = (last: string): Html => (
    <ul>
      {Array.from({ length: 6_000 }, (_, n) => n).map((n) => (
        <InTurns key={n}>
          <li title={'<!--"'.repeat(n % 7)}>{`row ${n}: ${'x'.repeat(60 + (n % 13))}${n === 5_900 ? last : ''}`}</li>
        </InTurns>
      ))}
    </ul>
  );
  for (const last of ['', ' \u05d0\u05d1, 4 h']) {
    let turns = 0;
    const counting = setInterval(() => {
      turns += 1;
    }, 0);
    const text = await fragmentInTurns(rows(last));
    clearInterval(counting);
    expect(text).toBe(renderFragment(rows(last)));
    expect(text.length).toBeGreaterThan(4 * 128 * 1024);
    expect(turns).toBeGreaterThan(0);
  }
});
