/** The phone's page, what it shows as data, and the entries that it sends. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { byId } from '../../../views/by-id.ts';
import type {
  CountDoubt,
  CountLoad,
  CountState,
  CountStep,
  OwnEntry,
  SendingAnswer,
} from '../../../views/client/outbox/count-wire.ts';
import { CountFrame, CountPage, statePieces } from '../../../views/count/count.tsx';
import { countTexts } from '../../../views/texts/count/sheet.ts';
import { keyTexts } from '../../../views/texts/programs/keys.ts';
import { yieldText } from '../../../views/words/design-words.ts';
import { stepName } from '../../../views/words/marks.tsx';
import { packsText } from '../../../views/words/schedule-words.ts';
import { measureOf } from '../../../views/words/supply-words.ts';
import {
  type Build,
  type Forecast,
  type ForecastOrder,
  type ForecastStep,
  inWords,
  isKeyKind,
  type LogEntry,
  type Manifest,
  messageOf,
  type NewLogEntry,
  type Problem,
  type StepsToCount,
  type UnderWay,
} from '../../model/index.ts';
import { LOG_KINDS } from '../../model/log/index.ts';
import { MAKER, type OpenDoubt, type Receipt, type Snapshot } from '../../planner/index.ts';
import { flatMapInTurns, inTurns } from '../../turns/turns.ts';
import { nameOf } from '../access.ts';
import { createAttempts } from '../attempts.ts';
import { Refusal } from '../errors.ts';
import { foundIn, pageOf, sendFragment, sendPage, snapshotOf, type Web } from '../web.ts';
import { registerPlainCount } from './plain-count.ts';

interface Counting {
  /** Stores entries; resolves when they are on the disk, without waiting for the new forecast. */
  appendSoon(id: string, entries: readonly NewLogEntry[], who: string): Promise<Receipt[]>;
  /** What was asked and has not been answered. */
  doubts(id: string): OpenDoubt[];
  /** Whether an entry is in the log under this number. */
  knows(id: string, entry: string, seq: number): Promise<boolean>;
}

interface CountOptions {
  readonly counting: Counting;
  /** Milliseconds since the epoch. */
  readonly nowMs: () => number;
}

const MOST_ENTRIES = 500;
const FIRST_MINE = 60;
const MOST_MINE = 5000;
/** Requests a minute from one visitor: far more than thumbs can make, far less than would hold up the others. */
const MOST_A_MINUTE = 600;
const MINUTE_MS = 60_000;
/** Seconds after which a phone asks again whether a closed build was reopened. */
const AGAIN_SECONDS = 30;

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

export function registerCount(app: FastifyInstance, web: Web, { counting, nowMs }: CountOptions): void {
  const mayCount = { config: { access: 'count' as const } };
  const programsToo = { config: { access: 'count' as const, keys: true } };
  const attempts = createAttempts({ windowMs: MINUTE_MS, most: MOST_A_MINUTE });

  const show = async (request: BuildRequest, reply: FastifyReply, problems: readonly Problem[] = []) => {
    const page = await pageOf(web, request, request.params.id);
    const state = await stateOf(web, counting, request);
    let data = '';
    for await (const piece of inTurns(statePieces(state))) data += piece;
    return sendPage(reply, CountPage({ page, state, data, helper: request.visitor.role === 'helper', problems }));
  };

  app.get('/b/:id/count', mayCount, (request: BuildRequest, reply) => show(request, reply));

  registerPlainCount(app, web, show);

  app.get('/b/:id/count/frame', mayCount, async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendFragment(reply, CountFrame({ page }));
  });

  app.get('/b/:id/count/now', mayCount, (request: BuildRequest, reply) => {
    reply.header('cache-control', 'no-store');
    return stateOf(web, counting, request);
  });

  // A page from before the counts had their present shape: what it holds is taken, and it is asked to be loaded again.
  app.get('/b/:id/count/state', mayCount, (_request, reply) => {
    reply.code(410).header('cache-control', 'no-store');
    return { problem: countTexts.pageTooOld };
  });

  app.get('/b/:id/count.webmanifest', mayCount, (request: BuildRequest, reply) => {
    const { build } = foundIn(web, request.params.id);
    return reply.type('application/manifest+json').header('cache-control', 'no-cache').send(manifestOf(build));
  });

  app.get('/b/:id/steps.json', programsToo, async (request: BuildRequest, reply) => {
    reply.header('cache-control', 'no-store');
    return stepsToCount(request.params.id, await snapshotOf(web, request.params.id));
  });

  app.post('/b/:id/entries', programsToo, async (request: BuildRequest, reply) => {
    const { id } = request.params;
    const wait = attempts.take(`${nameOf(request)} ${request.ip}`, nowMs());
    if (wait > 0) return tooOften(reply, wait);
    // The build of a helper or a key is there, or they would not have been let in.
    if (request.visitor.role === 'maker') foundIn(web, id);
    const { entries, last } = readSending(request.body);
    if (request.visitor.role === 'key') refuseBeyondCounts(entries);
    // What had arrived before: the log is read for it as it is at hand, without what comes now.
    const knowsLast = last === null || (await counting.knows(id, last.id, last.seq));
    const receipts = entries.length === 0 ? [] : await store(counting, id, entries, nameOf(request), reply);
    if (receipts === null) return { problem: countTexts.notStored };
    const taken = receipts.filter((receipt) => !isKeptOut(receipt));
    if (taken.length < receipts.length && taken.length === 0) return closedAnswer(receipts, reply);
    const answer: SendingAnswer = {
      // Whoever counted keeps what has no receipt, and sends it again.
      receipts: taken.map(spoken),
      now: new Date(nowMs()).toISOString(),
      knowsLast,
    };
    return answer;
  });
}

/** Null, with the status set, where the disk did not take them: full, locked, or gone. Nothing was stored then. */
async function store(
  counting: Counting,
  id: string,
  entries: readonly NewLogEntry[],
  who: string,
  reply: FastifyReply,
): Promise<Receipt[] | null> {
  try {
    return await counting.appendSoon(id, entries, who);
  } catch (error) {
    if (!/^SQLITE_/.test(String((error as { code?: unknown }).code))) throw error;
    reply.log.error(error);
    reply.code(503).header('retry-after', 5);
    return null;
  }
}

/** A receipt in the language of whoever counted. */
function spoken({ problems, questions, ...receipt }: Receipt): SendingAnswer['receipts'][number] {
  return { ...receipt, problems: problems.map((it) => inWords(it)), questions: questions.map(messageOf) };
}

/** A closed build takes no entry that it does not know. */
function isKeptOut({ problems }: Receipt): boolean {
  return problems.some(({ code }) => code === 'closed');
}

/** Phones and programs keep their counts, say why, and ask again now and then: the build may be reopened. */
function closedAnswer([first]: readonly Receipt[], reply: FastifyReply): { problem: string } {
  reply.code(423).header('retry-after', AGAIN_SECONDS);
  return { problem: messageOf(first!.problems[0]!) };
}

function tooOften(reply: FastifyReply, seconds: number): { problem: string } {
  reply.code(429).header('retry-after', seconds);
  return { problem: countTexts.tooOften(seconds) };
}

interface ReadSending {
  readonly entries: readonly NewLogEntry[];
  readonly last: { readonly id: string; readonly seq: number } | null;
}

/** The outside of what was sent; each entry is looked at by the planner, which answers for it alone. */
function readSending(body: unknown): ReadSending {
  const { entries, last } = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>;
  if (!Array.isArray(entries)) throw new Refusal(400, countTexts.noEntries);
  if (entries.length > MOST_ENTRIES) throw new Refusal(413, countTexts.tooMany(MOST_ENTRIES, entries.length));
  const { id, seq } = (typeof last === 'object' && last !== null ? last : {}) as Record<string, unknown>;
  const known = typeof id === 'string' && typeof seq === 'number' ? { id, seq } : null;
  return { entries: entries as NewLogEntry[], last: known };
}

/** For a program: an entry of any other kind keeps out all that it sends. What is no entry at all the planner words. */
function refuseBeyondCounts(entries: readonly unknown[]): void {
  const kinds = entries.map((entry) => (entry as { kind?: unknown } | null)?.kind);
  const other = LOG_KINDS.find((kind) => !isKeyKind(kind) && kinds.includes(kind));
  if (other !== undefined) throw new Refusal(403, keyTexts.refused.kind(other));
}

/** What a program may know of a build: the steps that it can count, in the order of the route. */
function stepsToCount(id: string, { forecast, version, stale }: Snapshot): StepsToCount {
  const steps = forecast.steps.filter(({ kind }) => kind === 'step');
  return {
    build: id,
    logSeq: version.logSeq,
    isStale: stale,
    steps: steps.map(({ id: step, name, unit, left }) => ({ id: step, name, unit, left })),
  };
}

/**
 * All the page shows, in turns with others' work. Counts and number are of one forecast, so that the phone can lay its
 * own entries on top exactly.
 */
async function stateOf(web: Web, counting: Counting, request: BuildRequest): Promise<CountState> {
  const { id } = request.params;
  const { forecast, version } = web.planner.latest(id) ?? (await snapshotOf(web, id));
  const { build, revision } = foundIn(web, id);
  const who = nameOf(request);
  const orders = openOrdersOf(forecast);
  return {
    build: id,
    zone: forecast.build.zone,
    revision,
    logSeq: version.logSeq,
    who,
    setName: forecast.setName,
    people: (build.people ?? []).map(({ id, name }) => ({ id, name })),
    machines: (build.machines ?? []).map(({ id, name, count }) => ({ id, name, count: count ?? 1 })),
    steps: await flatMapInTurns(forecast.steps, (step) => [stepOf(step, forecast, build, orders.get(step.id))]),
    mine: await ownEntries(web, id, who, mostMine(request.query)),
    doubts: counting.doubts(id).flatMap((doubt) => doubtFor(who, doubt)),
  };
}

const OPEN_ORDERS: ReadonlySet<ForecastOrder['state']> = new Set(['to-order', 'late'] as const);

/** What is still to be ordered, by its step; of several the first. */
function openOrdersOf({ orders }: Forecast): Map<string, ForecastOrder> {
  return new Map(
    orders
      .filter(({ state }) => OPEN_ORDERS.has(state))
      .toReversed()
      .map((order) => [order.step, order]),
  );
}

function stepOf(step: ForecastStep, forecast: Forecast, build: Build, order: ForecastOrder | undefined): CountStep {
  const machine = step.runMinutesPerLot === null ? null : step.machine;
  const measure = step.kind === 'order' ? measureOf(forecast, step.part) : undefined;
  // What has to dry first makes nothing ready by being counted.
  const dries = dryingIn(forecast).has(step.id);
  const nameOfStep = (id: string): string => stepName(forecast, id);
  return {
    id: step.id,
    name: step.name,
    kind: step.kind,
    part: step.part,
    ...uncheckedOf(step, forecast),
    ...failingOf(step, forecast),
    unit: step.unit,
    ...(measure === undefined ? {} : { measure }),
    sets: step.sets.map(({ set, total, counted, scrapped, left }) => ({ set, total, counted, scrapped, left })),
    lotSize: step.lotSize,
    handsMinutesPerUnit: step.handsMinutesPerUnit,
    runMinutesPerLot: step.runMinutesPerLot,
    waitMinutes: step.middleWaitMinutes,
    machine,
    machineName: build.machines?.find((one) => one.id === machine)?.name ?? machine,
    fed: step.fedBy.length > 0,
    readyNow: step.readyNow,
    waitsFor: step.waitsFor === null ? null : nameOfStep(step.waitsFor),
    underWay: step.underWay.map(loadOf),
    toOrder: order?.units ?? 0,
    packs: order === undefined ? null : packsText(build, forecast, order),
    feeds: step.feeds.flatMap(({ step: to, type, ratio }) =>
      type === 'units' && !dries ? [{ step: to, ratio: ratio ?? 1 }] : [],
    ),
    parts: step.partsIn.map((part) => ({ ...part, name: nameOfStep(part.step) })),
    sendsBack: step.sendsBack.map((back) => ({ ...back, name: nameOfStep(back.step) })),
  };
}

const drying = new WeakMap<Forecast, ReadonlySet<string>>();

/** Steps some of whose lots end with a wait; looked for once in each forecast. */
function dryingIn(forecast: Forecast): ReadonlySet<string> {
  const known = drying.get(forecast);
  if (known !== undefined) return known;
  const found = new Set<string>();
  for (const { step, placements } of forecast.lots) if (placements.at(-1)?.kind === 'wait') found.add(step);
  drying.set(forecast, found);
  return found;
}

function uncheckedOf({ part }: ForecastStep, { parts }: Forecast): Pick<CountStep, 'unchecked'> {
  const unchecked = (part === null ? undefined : byId(parts, part)?.unchecked) ?? [];
  const units = unchecked.reduce((sum, one) => sum + one.units, 0);
  return units === 0 ? {} : { unchecked: units };
}

/** Where some are left to be made, whose number it changes. */
function failingOf({ kind, part, left }: ForecastStep, forecast: Forecast): Pick<CountStep, 'failing'> {
  const failing = kind === 'step' && left > 0 ? yieldText(forecast, part) : null;
  return failing === null ? {} : { failing };
}

function loadOf({ entry, kind, set, units, since, backAt, promised }: UnderWay): CountLoad {
  return { entry, kind, set, units, since: isoOf(since), backAt: isoOf(backAt), promised };
}

/** A question as it is put to one of the two whom it concerns, or to the maker; the others are not asked. */
function doubtFor(who: string, { question, entry, other }: OpenDoubt): CountDoubt[] {
  const own = [entry, other].find((one) => one?.who === who);
  if (own === undefined && who !== MAKER) return [];
  const { id, kind, step, set, n } = entry;
  // An undo was no count: there is nothing of it to take back.
  const back = kind === 'undo' ? null : (own ?? entry);
  return [
    {
      entry: id,
      other: other?.id ?? null,
      kind,
      step: step ?? null,
      set: set ?? null,
      n: n ?? null,
      question: messageOf(question),
      takeBack: back === null ? null : { id: back.id, whose: back.who === who ? null : (back.who ?? MAKER) },
    },
  ];
}

function mostMine(query: unknown): number {
  const asked = Number((query as { mine?: unknown }).mine);
  return Number.isInteger(asked) && asked > 0 ? Math.min(asked, MOST_MINE) : FIRST_MINE;
}

/** The newest entries of one person, with what took them back, whoever did; looked for in turns with others' work. */
async function ownEntries({ planner }: Web, build: string, who: string, most: number): Promise<OwnEntry[]> {
  /** Its own, or an undo of what is: a phone takes back what was there before. */
  const concerns = ({ who: by, undoes, seq = 0 }: LogEntry): boolean => {
    if (by === who || undoes === undefined) return by === who;
    const undone = planner.entry(build, undoes);
    return undone !== null && (undone.seq ?? 0) < seq && concerns(undone);
  };
  const newest: LogEntry[] = [];
  for await (const entry of inTurns(planner.log(build).reverse())) {
    if (concerns(entry)) newest.push(entry);
    if (newest.length === most) break;
  }
  return newest.reverse().map(({ id, kind, at, step, set, n, counted, until, undoes, who: by, seq }) => ({
    id,
    kind,
    at,
    step: step ?? null,
    set: set ?? null,
    n: n ?? null,
    counted: counted ?? null,
    until: until ?? null,
    undoes: undoes ?? null,
    by: by === who ? null : (by ?? MAKER),
    seq: seq ?? 0,
  }));
}

/** What makes the page an app of its own on the phone's first screen, where it is served over TLS. */
function manifestOf(build: Build): Manifest {
  return {
    name: `${countTexts.title} · ${build.name}`,
    short_name: countTexts.title,
    id: `/b/${build.id}/count`,
    start_url: `/b/${build.id}/count`,
    scope: '/',
    display: 'standalone',
    background_color: '#f2ebdc',
    theme_color: '#f2ebdc',
    icons: [
      { src: '/assets/mark.svg', sizes: 'any', type: 'image/svg+xml' },
      { src: '/assets/mark-192.png', sizes: '192x192', type: 'image/png' },
      { src: '/assets/mark-512.png', sizes: '512x512', type: 'image/png' },
    ],
  };
}

function isoOf(minutes: number): string {
  return new Date(minutes * MINUTE_MS).toISOString();
}
