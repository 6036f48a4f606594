/**
 * Requests as broken programs, bad networks and the curious send them: any route, any visitor, any body. Seeded, so
 * that the request that a fault was found by can be made again.
 */
import type { FastifyInstance } from 'fastify';
import { FILE_FORMAT, FILE_VERSION } from '../../server/model/index.ts';
import { FIELDS } from '../../views/forms/fields.ts';
import { BUILD, type CountApp } from './count-app.ts';
import { fakeBuild } from './fake-build.ts';
import { FAKE_NOW } from './fake-forecast.ts';

export const VISITORS = ['nobody', 'helper', 'maker'] as const;
export type Visitor = (typeof VISITORS)[number];

export interface FuzzRequest {
  readonly as: Visitor;
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: Buffer | null;
}

/** What the requests are aimed at. */
export interface FuzzTarget {
  /** As `POST /b/:id/steps`. */
  readonly routes: readonly string[];
  readonly build: string;
  /** Ids, names and dates that are there. */
  readonly known: readonly string[];
  /** An instant that an entry may have. */
  readonly at: string;
  /** A build file, to be spoilt. */
  readonly file: string;
}

export function cookiesOf(bench: CountApp): Readonly<Record<Visitor, string>> {
  return { nobody: '', helper: bench.helperCookie('Ana'), maker: bench.makerCookie() };
}

/** All but the stream, which stays open, and leaving, which ends the session that the next requests need. */
export function targetOf({ routes }: CountApp): FuzzTarget {
  const build = fakeBuild();
  const lists = [build.steps, build.parts, build.people, build.machines, build.suppliers, build.gates, build.decisions];
  return {
    routes: routes.filter((route) => !route.endsWith('/live') && !route.endsWith('/leave')),
    build: BUILD,
    known: [BUILD, '2026-11-26', 'maker', ...lists.flatMap((list) => (list ?? []).map(({ id }) => id))],
    at: new Date(FAKE_NOW * 60_000).toISOString(),
    file: JSON.stringify({ format: FILE_FORMAT, version: FILE_VERSION, build: fakeBuild() }),
  };
}

/** A source of numbers from 0 up to 1, the same for the same seed (a 32-bit mix by multiplication and shifts). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** The next request of the source. */
export function fuzzRequest(draw: () => number, target: FuzzTarget): FuzzRequest {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(draw() * list.length)]!;
  const [method, path] = pick(target.routes).split(' ') as [string, string];
  const body = method === 'GET' ? null : bodyOf(pick, draw, target, path);
  const query = draw() < 0.5 ? '' : `?${queryOf(pick, draw, target, path)}`;
  const headers = { ...strangeHeaders(pick, draw), ...(body === null ? {} : body.headers) };
  return {
    as: pick(VISITORS),
    method: draw() < 0.02 ? pick(['PUT', 'DELETE', 'PATCH', 'HEAD', 'OPTIONS', 'POST', 'GET']) : method,
    url: `${addressOf(pick, draw, target, path)}${query}`,
    headers,
    payload: body === null ? null : body.payload,
  };
}

/** The status that each request got, and the body where it was a failure of ours. */
export async function send(app: FastifyInstance, request: FuzzRequest, cookies: Readonly<Record<Visitor, string>>) {
  const { as, method, url, headers, payload } = request;
  const cookie = [cookies[as], headers.cookie].filter((one) => one !== undefined && one !== '').join('; ');
  return app.inject({
    method: method as 'GET',
    url,
    headers: { ...headers, ...(cookie === '' ? {} : { cookie }) },
    ...(payload === null ? {} : { payload }),
  });
}

/** One line by which a request can be read, cut where it is long. */
export function requestLine({ as, method, url, headers, payload }: FuzzRequest): string {
  const body = payload === null ? '' : JSON.stringify(payload.toString('latin1').slice(0, 300));
  return `${as}: ${method} ${url.slice(0, 300)} ${JSON.stringify(headers).slice(0, 300)} ${body}`;
}

type Pick = <T>(list: readonly T[]) => T;
type Draw = () => number;

const ODD_TEXTS = [
  '',
  ' ',
  '0',
  '-1',
  '1e9',
  '1e309',
  'NaN',
  'Infinity',
  '9007199254740993',
  'null',
  'true',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  '..',
  '../../etc',
  'a.b.c.d.e',
  '2026-13-45',
  '2026-02-30T25:61',
  '0000-00-00T00:00',
  '275760-09-13',
  'new',
  'build',
  'steps/new',
  'mon-sun 00:00-24:00',
  'daily 22:00-06:00',
  '1 to 0, likely 9',
  '18 in 0 min',
  '((((((((((1))))))))))',
  '1/0',
  '2^1024',
  'panels',
  '\u0000',
  '\ud800',
  '\u202e',
  '👩‍🔧',
  '<script>',
  "'; drop table builds; --",
  '%',
  '%00',
  '%ff',
  '%2e%2e%2f',
  '{{7*7}}',
  '\r\nset-cookie: a=b',
] as const;

function oddText(pick: Pick, draw: Draw, target: FuzzTarget): string {
  const kind = draw();
  if (kind < 0.35) return pick(target.known);
  if (kind < 0.8) return pick(ODD_TEXTS);
  if (kind < 0.85) return 'x'.repeat(Math.floor(draw() ** 4 * 100_000));
  if (kind < 0.9) return '('.repeat(Math.floor(draw() ** 3 * 20_000));
  return Array.from({ length: Math.floor(draw() * 12) }, () => String.fromCharCode(Math.floor(draw() * 65_536))).join(
    '',
  );
}

function addressOf(pick: Pick, draw: Draw, target: FuzzTarget, path: string): string {
  return path
    .split('/')
    .map((part) => {
      if (!part.startsWith(':') && part !== '*') return draw() < 0.01 ? safely(oddText(pick, draw, target)) : part;
      if (part === ':id' && draw() < 0.7) return target.build;
      const text = oddText(pick, draw, target);
      return draw() < 0.9 ? safely(text) : text.replace(/[^\x21-\x7e]|[/?#]/g, '');
    })
    .join('/');
}

function safely(text: string): string {
  return encodeURIComponent(text.toWellFormed());
}

function queryOf(pick: Pick, draw: Draw, target: FuzzTarget, path: string): string {
  const names = ['open', 'pin', 'since', 'before', 'mine', 'seen', 'edit', 'do', '__proto__', 'open', 'open'];
  const lists = [
    'parameters',
    'limits',
    'parts',
    'suppliers',
    'people',
    'machines',
    'steps',
    'feeds',
    'gates',
    'decisions',
    'build',
  ];
  const value = (): string =>
    draw() < 0.6 ? `${pick(lists)}/${draw() < 0.4 ? 'new' : oddText(pick, draw, target)}` : oddText(pick, draw, target);
  const first = path.includes('/b/') && draw() < 0.7 ? [`open=${safely(value())}`] : [];
  const rest = Array.from({ length: Math.floor(draw() * 3) }, () => `${pick(names)}=${safely(value())}`);
  return [...first, ...rest].join('&').slice(0, 4000);
}

function strangeHeaders(pick: Pick, draw: Draw): Record<string, string> {
  const headers: Record<string, string> = {};
  if (draw() < 0.5) headers.accept = pick(['text/html', '*/*', 'application/json', 'text/event-stream', ';;;', '']);
  if (draw() < 0.2) headers['hx-request-type'] = pick(['partial', 'full', '__proto__']);
  if (draw() < 0.1) headers['accept-encoding'] = pick(['gzip', 'gzip;q=0', 'br', '*', ',,,']);
  if (draw() < 0.05) headers.cookie = pick(['light=dark', 'light=%', 'daywright=%00', '=;=;', 'a'.repeat(5000)]);
  if (draw() < 0.03) headers['last-event-id'] = pick(['', '1.2.3', 'x'.repeat(3000)]);
  if (draw() < 0.03) headers['if-none-match'] = pick(['*', '"x"', 'x'.repeat(2000)]);
  if (draw() < 0.03) headers.range = pick(['bytes=0-', 'bytes=-1', 'bytes=9-1', 'lines=1']);
  if (draw() < 0.02) headers['content-encoding'] = pick(['gzip', 'br']);
  if (draw() < 0.02) headers.expect = '100-continue';
  if (draw() < 0.02) headers['x-http-method-override'] = 'DELETE';
  return headers;
}

interface Body {
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: Buffer;
}

function bodyOf(pick: Pick, draw: Draw, target: FuzzTarget, path: string): Body {
  const kind = draw();
  const made = path.endsWith('/file')
    ? kind < 0.75
      ? multipartBody(pick, draw, target)
      : otherBody(pick, draw, target)
    : path.endsWith('/entries')
      ? kind < 0.7
        ? entriesBody(pick, draw, target)
        : otherBody(pick, draw, target)
      : kind < 0.6
        ? formBody(pick, draw, target)
        : kind < 0.75
          ? jsonForm(pick, draw, target)
          : otherBody(pick, draw, target);
  return spoilt(pick, draw, made);
}

/** Cut short, a byte changed, another type or a wrong length: one in four. */
function spoilt(pick: Pick, draw: Draw, body: Body): Body {
  if (draw() < 0.75) return body;
  const { payload, headers } = body;
  switch (Math.floor(draw() * 4)) {
    case 0:
      return { headers, payload: payload.subarray(0, Math.floor(draw() * payload.length)) };
    case 1: {
      const changed = Buffer.from(payload);
      for (let i = 0; i < 3 && changed.length > 0; i++) changed[Math.floor(draw() * changed.length)] = draw() * 256;
      return { headers, payload: changed };
    }
    case 2:
      return { headers: { ...headers, 'content-type': pick(TYPES) }, payload };
    default:
      return { headers: { ...headers, 'content-length': pick(['0', '1', '99999999', '-1', 'x']) }, payload };
  }
}

const TYPES = [
  'application/json',
  'application/json; charset=utf-16',
  'application/x-www-form-urlencoded',
  'application/x-www-form-urlencoded; charset=latin1',
  'multipart/form-data',
  'multipart/form-data; boundary=',
  'multipart/form-data; boundary=b',
  'multipart/mixed; boundary=b',
  'text/plain',
  'application/xml',
  'nonsense',
  '',
  ';',
] as const;

function otherBody(pick: Pick, draw: Draw, target: FuzzTarget): Body {
  switch (Math.floor(draw() * 4)) {
    case 0:
      return formBody(pick, draw, target);
    case 1:
      return multipartBody(pick, draw, target);
    case 2:
      return entriesBody(pick, draw, target);
    default:
      return { headers: { 'content-type': pick(TYPES) }, payload: Buffer.from(oddText(pick, draw, target)) };
  }
}

/**
 * Names that our forms have, with values of any kind; rows numbered far out, names twice, lists where one is wanted.
 */
function formBody(pick: Pick, draw: Draw, target: FuzzTarget): Body {
  const fields = pick(Object.values(FIELDS)).flatMap((field) =>
    field.kind === 'rows'
      ? (field.rows ?? []).map(({ key }) => `${field.key}.${pick(['0', '1', '7', '499', '-1', 'x'])}.${key}`)
      : [field.key],
  );
  const names = [
    ...fields,
    'do',
    'edit',
    'revision',
    'name',
    'zone',
    'event',
    'key',
    'code',
    'light',
    'back',
    '__proto__',
  ];
  const pairs = Array.from({ length: Math.floor(draw() * 12) }, (): [string, string] => {
    const name = pick(names);
    return [name, name === 'do' ? pick(ACTIONS) : oddText(pick, draw, target).toWellFormed()];
  });
  if (draw() < 0.7) pairs.push(['edit', pick(['1', '2', '3', 'x'])], ['do', pick(ACTIONS)]);
  const text = new URLSearchParams(pairs).toString();
  const payload = draw() < 0.9 ? text : `${text}&%=%ff&a[b]=1&a[]=2&&=`;
  return { headers: { 'content-type': 'application/x-www-form-urlencoded' }, payload: Buffer.from(payload) };
}

/** What a form would send, as JSON: a program's way, in which a value may be anything. */
function jsonForm(pick: Pick, draw: Draw, target: FuzzTarget): Body {
  const fields = pick(Object.values(FIELDS)).map(({ key }) => key);
  const names = [...fields, 'phases.0.kind', 'do', 'edit', 'revision', 'name', 'key', 'code', 'light', 'back'];
  const value = (): unknown =>
    draw() < 0.4 ? deep(draw) : draw() < 0.3 ? [deep(draw), 1] : oddText(pick, draw, target);
  const pairs = Array.from({ length: 1 + Math.floor(draw() * 4) }, () => [pick(names), value()]);
  const text = written({ ...Object.fromEntries(pairs), edit: '1' });
  return { headers: { 'content-type': 'application/json' }, payload: Buffer.from(text) };
}

const ACTIONS = [
  'save',
  'remove',
  'add:phases:run',
  'add:phases:nonsense',
  'drop:phases:0',
  'drop:phases:-1',
  'up:phases:1',
  'down:after:0',
  'add:__proto__:x',
  'end',
  ':',
  '',
] as const;

function entriesBody(pick: Pick, draw: Draw, target: FuzzTarget): Body {
  const value = (): unknown =>
    draw() < 0.3 ? deep(draw) : draw() < 0.5 ? Math.round(draw() * 1e6) : oddText(pick, draw, target);
  const entry = (): unknown => {
    if (draw() < 0.1) return value();
    const whole: Record<string, unknown> = {
      id: `fuzzed-${Math.floor(draw() * 1e9)}-x`,
      kind: pick(['done', 'scrapped', 'undo', 'lost', 'passed', 'loaded', 'promised', 'began', 'confirmed']),
      step: pick(target.known),
      n: Math.ceil(draw() * 5),
      at: target.at,
    };
    const names = [
      ...Object.keys(whole),
      'set',
      'who',
      'person',
      'machine',
      'until',
      'undoes',
      'reason',
      'note',
      'more',
    ];
    whole[pick(names)] = value();
    return whole;
  };
  const sent = {
    entries: draw() < 0.1 ? value() : Array.from({ length: Math.floor(draw() * 5) }, entry),
    ...(draw() < 0.3 ? { last: value() } : {}),
  };
  const text = draw() < 0.05 ? `${'['.repeat(50_000)}${']'.repeat(draw() < 0.5 ? 50_000 : 3)}` : written(sent);
  return { headers: { 'content-type': 'application/json' }, payload: Buffer.from(text) };
}

/** Lists in lists, as text that JSON.stringify could not write. */
function deep(draw: Draw): unknown {
  return new Deep(Math.floor(draw() ** 3 * 40_000));
}

class Deep {
  readonly levels: number;
  constructor(levels: number) {
    this.levels = levels;
  }
  toJSON(): string {
    return `deep:${this.levels}`;
  }
}

function written(value: unknown): string {
  return JSON.stringify(value).replace(/"deep:(\d+)"/g, (_, levels) => {
    const n = Number(levels);
    return n % 2 === 0 ? `${'['.repeat(n)}${']'.repeat(n)}` : `${'{"a":'.repeat(n)}1${'}'.repeat(n)}`;
  });
}

function multipartBody(pick: Pick, draw: Draw, target: FuzzTarget): Body {
  const part = (): string => {
    const name = pick(['file', 'file', 'file', '__proto__', '', 'x']);
    const filename = pick([
      '; filename="a.json"',
      '; filename="a.yaml"',
      '',
      '; filename=',
      '; filename="\u0000/../x"',
    ]);
    const type = pick([
      '',
      'content-type: application/json\r\n',
      'content-type: multipart/mixed; boundary=c\r\n',
      'content-type: ;\r\n',
    ]);
    const coding = draw() < 0.1 ? `content-transfer-encoding: ${pick(['base64', '8bit', 'quoted-printable'])}\r\n` : '';
    const head = draw() < 0.08 ? '' : `content-disposition: form-data; name="${name}"${filename}\r\n${type}${coding}`;
    return `--b\r\n${head}\r\n${fileText(pick, draw, target)}\r\n`;
  };
  const parts = Array.from({ length: draw() < 0.7 ? 1 : Math.floor(draw() * 16) }, part).join('');
  const end = pick([
    '--b--\r\n',
    '--b--\r\n',
    '--b--\r\n',
    '--b\r\n',
    '',
    '--b\r\n\r\n--b--',
    '--b\r\n--b--',
    '--b--\r\n--b--',
  ]);
  return { headers: { 'content-type': 'multipart/form-data; boundary=b' }, payload: Buffer.from(`${parts}${end}`) };
}

function fileText(pick: Pick, draw: Draw, target: FuzzTarget): string {
  switch (Math.floor(draw() * 6)) {
    case 0:
      return spoiltFile(pick, draw, target);
    case 1:
      return written({ format: 'daywright-build', version: 1, build: deep(draw), log: deep(draw) });
    case 2:
      return pick([
        '- '.repeat(2000),
        '{a: '.repeat(300),
        '[1, '.repeat(300),
        '? '.repeat(300),
        '&a [*a, *a]',
        'a: &a\n  b: *a',
      ]);
    case 3:
      return `--c\r\n\r\n--c--`;
    case 4:
      return oddText(pick, draw, target);
    default:
      return target.file.slice(0, Math.floor(draw() * target.file.length));
  }
}

/** A build file in which one value is another: of another kind, deep, or long. */
function spoiltFile(pick: Pick, draw: Draw, target: FuzzTarget): string {
  const file = JSON.parse(target.file) as Record<string, unknown>;
  let here: Record<string, unknown> = file;
  for (let level = 0; level < 8; level++) {
    const key = pick(Object.keys(here));
    const next = key === undefined ? null : here[key];
    if (typeof next === 'object' && next !== null && Object.keys(next).length > 0 && draw() < 0.85) {
      here = next as Record<string, unknown>;
      continue;
    }
    if (key !== undefined) {
      here[key] = pick([null, deep(draw), oddText(pick, draw, target), -1, 1e300, [], {}, [[]], true]);
    }
    break;
  }
  return written(file);
}
