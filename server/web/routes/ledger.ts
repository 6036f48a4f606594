/** The ledger of room: what gained or cost room, by whom, and how much there was. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { LedgerPage, type LedgerRow, LedgerSheet } from '../../../views/sheets/ledger.tsx';
import { texts } from '../../../views/texts/index.ts';
import type { BuildPage } from '../../../views/types.ts';
import { type EditTexts, turnCauseText } from '../../../views/words/cause-words.ts';
import { type LedgerSpanName, SPANS } from '../../../views/words/ledger-words.ts';
import { soonText } from '../../../views/words/wording.ts';
import { roomSince, sumParts } from '../../engine/index.ts';
import type { LogEntry, RoomSince } from '../../model/index.ts';
import { causeOf, MAKER, type Turn } from '../../planner/index.ts';
import { flatMapInTurns } from '../../turns/turns.ts';
import { editTextsOf, withEditTexts } from '../edits/edit-texts.ts';
import { minutesOf, pageOf, sendSheet, type Web } from '../web.ts';

type LedgerRequest = FastifyRequest<{ Params: { id: string }; Querystring: { since?: unknown; before?: unknown } }>;

const ROWS = 50;
const DAY = 1440;
const LENGTHS: Readonly<Record<LedgerSpanName, number>> = { day: DAY, week: 7 * DAY, start: Number.MAX_SAFE_INTEGER };

export function registerLedger(app: FastifyInstance, web: Web): void {
  app.get('/b/:id/ledger', async (request: LedgerRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const span = SPANS.find((it) => it === request.query.since) ?? 'day';
    const turns = web.planner.history(page.build.id);
    const before = beforeOf(request.query.before, turns.length);
    const props = {
      page,
      span,
      since: sinceOf(web, page, turns, page.forecast.now - LENGTHS[span]),
      rooms: roomsThen(page, turns),
      course: turns.flatMap(({ computedAt, roomMinutes }) =>
        roomMinutes === null ? [] : [[computedAt, roomMinutes] as const],
      ),
      doings: await doingsSince(web, page, page.forecast.now - LENGTHS[span]),
      rows: rowsBefore(page, turns, before, editTextsOf(web.planner, page.build.id)),
      rebuilt: web.planner.rebuilding(page.build.id) ? null : turns.filter(({ rebuilt }) => rebuilt).length,
      newer: before > turns.length ? null : Math.min(before + ROWS, turns.length + 1),
      older: before - ROWS > 1 ? before - ROWS : null,
    };
    return sendSheet(
      request,
      reply,
      () => LedgerSheet(props),
      () => LedgerPage(props),
    );
  });
}

/** What became of the room in the last day, for the Countdown. */
export function roomSinceYesterday(web: Web, page: BuildPage): RoomSince | null {
  const asked = page.forecast.now - DAY;
  return sinceOf(web, page, web.planner.history(page.build.id, asked), asked);
}

function sinceOf({ planner }: Web, page: BuildPage, turns: readonly Turn[], asked: number): RoomSince | null {
  const from = turns.findLastIndex(({ computedAt }) => computedAt <= asked);
  const last = turns.at(-1);
  const known = last?.revision === page.revision && last.logSeq === page.entries;
  const settled = !page.stale && planner.latest(page.build.id)?.settled === true;
  const since = roomSince(turns.slice(Math.max(0, from)), {
    room: page.forecast.room.readyBy.clock,
    onlyTime: known || settled,
  });
  return since && { ...since, sums: withEditTexts(since.sums, editTextsOf(planner, page.build.id)) };
}

/** Now, yesterday and a week ago; at first, where the ledger is younger than that. */
function roomsThen({ clock, forecast }: BuildPage, turns: readonly Turn[]) {
  const { now } = forecast;
  const at = (name: string, turn: Turn | undefined, when: number) =>
    turn === undefined ? [] : [{ name, minutes: turn.roomMinutes, when: soonText(clock, when, now) }];
  const ago = (minutes: number) => turns.findLast(({ computedAt }) => computedAt <= now - minutes);
  const say = texts.ledger;
  const old = ago(7 * DAY) === undefined ? turns[0] : undefined;
  return [
    { name: say.now, minutes: forecast.room.readyBy.clock, when: soonText(clock, now, now) },
    ...at(say.yesterday, ago(DAY), now - DAY),
    ...at(say.weekAgo, ago(7 * DAY), now - 7 * DAY),
    ...at(say.first, old, old?.computedAt ?? now),
  ];
}

function rowsBefore(page: BuildPage, turns: readonly Turn[], before: number, textOf: EditTexts): LedgerRow[] {
  return turns
    .slice(Math.max(0, before - 1 - ROWS), before - 1)
    .map(({ number, computedAt, who, cause, roomMinutes, chance, parts, rebuilt }) => {
      const earlier = turns[number - 2]?.roomMinutes ?? null;
      return {
        number,
        at: computedAt,
        who,
        cause: turnCauseText(cause, page, textOf),
        change: earlier === null || roomMinutes === null ? null : roomMinutes - earlier,
        sums: parts === null ? null : withEditTexts(sumParts(parts), textOf),
        room: roomMinutes,
        chance,
        rebuilt,
      };
    })
    .reverse();
}

/** A row's number that is there, or one past the newest. */
function beforeOf(asked: unknown, rows: number): number {
  const number = typeof asked === 'string' && /^\d{1,9}$/.test(asked) ? Number(asked) : rows + 1;
  return Math.min(Math.max(2, number), rows + 1);
}

/** What each person edited and logged since an instant, in a line. */
async function doingsSince({ planner }: Web, page: BuildPage, since: number): Promise<{ who: string; what: string }[]> {
  const { build, forecast } = page;
  const edits = planner.revisions(build.id).filter(({ savedAt }) => minutesOf(savedAt) > since);
  const logged = new Map<string, LogEntry[]>();
  const names = new Set(edits.map(({ who }) => who));
  await flatMapInTurns(planner.log(build.id), (entry) => {
    if (minutesOf(entry.arrived ?? entry.at) <= since) return [];
    const who = entry.who ?? MAKER;
    names.add(who);
    const known = logged.get(who);
    if (known === undefined) logged.set(who, [entry]);
    else known.push(entry);
    return [];
  });
  const textOf = editTextsOf(planner, build.id);
  const called = { steps: forecast.steps, people: [...(build.people ?? []), ...(build.machines ?? [])] };
  return [...names].map((name) => {
    const cause = causeOf(
      edits.filter(({ who }) => who === name).map(({ revision }) => revision),
      logged.get(name) ?? [],
      called,
    );
    return { who: name, what: turnCauseText(cause, page, textOf) };
  });
}
