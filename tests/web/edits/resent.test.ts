/** What a sheet sends is taken once, though a weak network or a second tap sends it again minutes later. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Build } from '../../../server/model/index.ts';
import { createStore, openDatabase } from '../../../server/store/index.ts';
import { NOON } from '../../planner/simple-forecast.ts';
import { lantern } from '../../store/helpers.ts';
import { type RealApp, realApp } from '../../support/changes/real-app.ts';

const RICH: Build = lantern({
  parts: [
    { id: 'ribs', name: 'ribs', source: 'make', count: 4 },
    { id: 'bolt', name: 'bolt', source: 'buy', count: 20, supplier: 'mill' },
  ],
  suppliers: [{ id: 'mill', name: 'mill', lead: 2 }],
  machines: [{ id: 'saw', name: 'saw', count: 2 }],
  boxes: [{ id: 'crate', name: 'crate', parts: [{ part: 'ribs', count: 4 }] }],
});
/** What was ordered is taken back on a second look. */
const SHEETS = [
  '/orders',
  '/orders',
  '/show',
  '/show?open=boxes/new',
  '/wrong',
  '/lines',
  '/after',
  '/history',
  '/steps?open=steps/cut',
  '/design?open=parts/bolt',
  '/hands?open=people/ana',
];
/** What is typed where a form asks for something. */
const TYPED: Readonly<Record<string, string>> = { name: 'Tail lift', lines: '12 hooks, bend 2 min each', n: '2' };
/** What only looks, and says so. */
const LOOKS = new Set(['what-if', 'see', 'look']);

let minutes = NOON;
let real: RealApp;
beforeAll(async () => {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]!.message);
  real = await realApp(createStore(db.value), () => minutes);
  const made = await real.planner.create(RICH, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await real.planner.settled();
});
afterAll(() => real.close());

interface Press {
  readonly url: string;
  readonly fields: readonly (readonly [string, string])[];
}

/** Each button of each form of a page that posts to the build, with the fields as they are. */
function pressesIn(html: string): Press[] {
  const forms = [...html.matchAll(/<form([^>]*)>(.*?)<\/form>/gs)];
  return forms.flatMap(([, head = '', body = '']) => {
    const url = attribute(head, 'action');
    if (attribute(head, 'method') !== 'post' || !url?.startsWith('/b/lantern') || url.endsWith('/remove')) return [];
    const fields = [...inputsIn(body), ...areasIn(body), ...choicesIn(body)];
    const buttons = [...body.matchAll(/<button([^>]*)>/g)].map(([, own = '']) => {
      const name = attribute(own, 'name');
      return name === null ? [] : [[name, attribute(own, 'value') ?? ''] as const];
    });
    const pressed = buttons.filter(([own]) => own === undefined || !LOOKS.has(own[1]));
    return pressed.map((button) => ({ url, fields: [...fields, ...button] }));
  });
}

function inputsIn(body: string): (readonly [string, string])[] {
  return [...body.matchAll(/<input([^>]*)>/g)].flatMap(([, own = '']) => {
    const [name, value, type] = ['name', 'value', 'type'].map((one) => attribute(own, one));
    const isLeft = (type === 'checkbox' || type === 'radio') && !/ checked/.test(own);
    return name == null || isLeft || type === 'file' ? [] : [[name, value || (TYPED[name] ?? '')] as const];
  });
}

function areasIn(body: string): (readonly [string, string])[] {
  return [...body.matchAll(/<textarea([^>]*)>([^<]*)/g)].map(
    ([, own = '', text = '']) => [attribute(own, 'name')!, text || (TYPED[attribute(own, 'name')!] ?? '')] as const,
  );
}

function choicesIn(body: string): (readonly [string, string])[] {
  return [...body.matchAll(/<select([^>]*)>(.*?)<\/select>/gs)].map(([, own = '', options = '']) => {
    const chosen = /<option([^>]*) selected/.exec(options) ?? /<option([^>]*)>/.exec(options);
    return [attribute(own, 'name')!, attribute(chosen?.[0] ?? '', 'value') ?? ''] as const;
  });
}

function attribute(head: string, name: string): string | null {
  return (
    new RegExp(`(?:^| )${name}="([^"]*)"`).exec(head)?.[1]?.replaceAll('&amp;', '&').replaceAll('&quot;', '"') ?? null
  );
}

function send({ url, fields }: Press) {
  return real.app.inject({
    method: 'POST',
    url,
    payload: new URLSearchParams(fields.map(([name, value]) => [name, value])).toString(),
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
  });
}

const state = () => ({
  entries: real.planner.log('lantern').length,
  revision: real.planner.build('lantern')!.revision,
  options: real.planner.optionNames('lantern').length,
});

describe('a press that is sent again', () => {
  it('changes nothing more, whichever button of whichever sheet it was, and is no fault of who pressed', {
    timeout: 60_000,
  }, async () => {
    const logged = new Set<string>();
    for (const sheet of SHEETS) {
      const { body } = await real.app.inject({ url: `/b/lantern${sheet}` });
      for (const press of pressesIn(body)) {
        const before = state();
        const first = await send(press);
        const after = state();
        minutes += 2;
        const second = await send(press);
        const line = `${press.url} ${JSON.stringify(press.fields)}`;
        expect(state(), line).toEqual(after);
        if (after.entries === before.entries) continue;
        expect([first.statusCode, second.statusCode], line).toEqual([303, 303]);
        logged.add(real.planner.log('lantern').at(-1)!.kind);
      }
    }
    expect([...logged].sort()).toEqual(['lost', 'ordered', 'packed', 'promised', 'received', 'undo']);
  });
});
