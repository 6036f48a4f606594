/** Orders and money: the sheets, and what is tapped of an order, which is an entry of the log like any other. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { screenHref } from '../../../views/links.ts';
import { MoneyPage, MoneySheet } from '../../../views/sheets/money.tsx';
import { OrdersPage, type OrdersProps, OrdersSheet } from '../../../views/sheets/orders.tsx';
import { orderTexts } from '../../../views/texts/paper/orders.ts';
import type { Forecast, LogEntry, NewLogEntry, Problem, Result } from '../../model/index.ts';
import { wordedProblem } from '../../model/index.ts';
import { standingEntries } from '../../model/log/index.ts';
import { statusOf } from '../errors.ts';
import { logPressed, minutesOf, pageOf, pressedId, sendCommonSheet, sendSheet, snapshotOf, type Web } from '../web.ts';

type BuildRequest = FastifyRequest<{ Params: { id: string } }>;

const say = orderTexts.refused;
const MOST_UNITS = 1_000_000;
const ENTRY_ID = /^[A-Za-z0-9_-]{8,64}$/;

export function registerOrders(app: FastifyInstance, web: Web): void {
  const path = screenHref(':id', 'orders');
  app.get(path, (request: BuildRequest, reply) => show(web, request, reply, []));

  app.post(path, async (request: BuildRequest, reply) => {
    const { id } = request.params;
    const { forecast } = await snapshotOf(web, id);
    const read = readTap((request.body ?? {}) as Readonly<Record<string, unknown>>, forecast, web.planner.log(id));
    const problems = read.ok ? logPressed(web, request, id, read.value) : read.problems;
    if (problems.length === 0) return reply.redirect(path.replace(':id', id), 303);
    reply.code(statusOf(problems));
    return show(web, request, reply, problems);
  });

  app.get(screenHref(':id', 'money'), async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    return sendCommonSheet(web, request, reply, page, {
      sheet: () => MoneySheet({ page }),
      page: () => MoneyPage({ page }),
    });
  });
}

async function show(
  web: Web,
  request: BuildRequest,
  reply: FastifyReply,
  problems: readonly Problem[],
): Promise<string> {
  const page = await pageOf(web, request, request.params.id);
  const log = web.planner.log(page.build.id);
  const props: OrdersProps = {
    page,
    told: toldLast(log),
    // Until anything more is logged: then a second tap is another entry.
    entryId: (step, kind) => pressedId('order', [page.build.id, step, kind, log.length]),
    problems,
  };
  return sendSheet(
    request,
    reply,
    () => OrdersSheet(props),
    () => OrdersPage(props),
  );
}

const OF_ORDERS = ['ordered', 'received', 'promised'] as const;

function isOfOrders(kind: LogEntry['kind']): kind is (typeof OF_ORDERS)[number] {
  return OF_ORDERS.some((one) => one === kind);
}

/** By step, the last entry about an order that stands. */
function toldLast(log: readonly LogEntry[]): OrdersProps['told'] {
  const ofOrders = log.filter(({ kind }) => kind === 'undo' || isOfOrders(kind));
  const told = standingEntries(ofOrders).flatMap((entry) => {
    const { kind, step } = entry;
    return step === undefined || !isOfOrders(kind) ? [] : [[step, { kind, entry, at: minutesOf(entry.at) }] as const];
  });
  return new Map(told);
}

type Tap = Result<Omit<NewLogEntry, 'at'>>;

/** What was tapped as an entry; or in a sentence what is wrong with it. */
function readTap(body: Readonly<Record<string, unknown>>, forecast: Forecast, log: readonly LogEntry[]): Tap {
  const text = (name: string): string => (typeof body[name] === 'string' ? body[name] : '');
  const refuse = (field: string, value: string, message: string): Tap => ({
    ok: false,
    problems: [wordedProblem('log', field, value, message)],
  });
  const [id, kind, step, undoes] = [text('entry'), text('kind'), text('step'), text('undoes')];
  if (!ENTRY_ID.test(id)) return refuse('entry', id, say.entry(id));
  if (kind === 'undo') {
    if (!log.some((entry) => entry.id === undoes)) return refuse('undoes', undoes, say.entry(undoes));
    return { ok: true, value: { id, kind, undoes } };
  }
  if (kind !== 'ordered' && kind !== 'received') return refuse('kind', kind, say.kind(kind));
  if (!(forecast.supplies ?? []).some((supply) => supply.step === step)) return refuse('step', step, say.step(step));
  const n = /^\d{1,7}$/.test(text('n').trim()) ? Number(text('n')) : 0;
  if (n < 1 || n > MOST_UNITS) return refuse('n', text('n'), say.number(text('n')));
  return { ok: true, value: { id, kind, step, n } };
}
