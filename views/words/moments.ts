/** The last moment for everything, in words: orders, decisions, starts, dues, and what is fixed. */
import type { Forecast, ForecastOrder } from '../../server/model/index.ts';
import { screenHref } from '../links.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { highText, questionText, uncheckedText } from './design-words.ts';
import { openSteps, stepName, supplierName } from './marks.tsx';
import { arrivalText, packsText } from './schedule-words.ts';
import { spareRows } from './spare-words.ts';
import { noDayText, orderedText } from './supply-words.ts';
import { roomText, soonText } from './wording.ts';

const say = texts.dates;

type MomentKind = keyof typeof say.kinds;

export interface Moment {
  readonly at: number;
  readonly kind: MomentKind;
  readonly key: string;
  readonly text: string;
  readonly more: string;
  readonly href: string | null;
}

/** A last moment as a line. */
export function momentLine({ kind, text, more }: Moment): string {
  return [say.kinds[kind], text, more === '' ? '' : `(${more})`].filter((words) => words !== '').join(' ');
}

/** Instants that are fixed or forecast stay where they are, even when they have passed. */
export const FIXED_MOMENTS: ReadonlySet<MomentKind> = new Set<MomentKind>([
  'readyBy',
  'loadIn',
  'event',
  'ready',
  'arrival',
]);

/** All last moments of a build, what is fixed and what is forecast among them, by their instants. */
export function momentsOf(page: BuildPage): Moment[] {
  return [
    ...orderMoments(page),
    ...spareMoments(page),
    ...decisionMoments(page),
    ...startMoments(page),
    ...dueMoments(page),
    ...fixedMoments(page),
  ].sort((a, b) => a.at - b.at);
}

function orderMoments({ forecast, build, clock }: BuildPage): Moment[] {
  const moments: Moment[] = [];
  const href = screenHref(build.id, 'design');
  for (const order of forecast.orders) {
    const units = orderedText(order);
    const from = texts.countdown.from(supplierName(build, order.supplier));
    if (order.state === 'to-order' || order.state === 'late') {
      const arrives = arrivalText(forecast, clock, order);
      const packs = packsText(build, forecast, order);
      const high = highText(forecast, order);
      const noDay = noDayText(forecast, clock, order.step);
      const more = [packs, from, noDay, arrives, high, uncheckedText(forecast, order.part)]
        .filter((it) => it !== null)
        .join(', ');
      const kind = order.kind === 'buy' ? 'order' : 'sendOut';
      moments.push({ at: order.orderBy, kind, key: order.step, text: units, more, href });
    }
    if (order.state === 'ordered') {
      moments.push({
        at: order.arrives,
        kind: 'arrival',
        key: order.step,
        text: units,
        more: arrivalMore(forecast, order, from),
        href: null,
      });
    }
  }
  return moments;
}

function arrivalMore(forecast: Forecast, order: ForecastOrder, from: string): string {
  return [from, uncheckedText(forecast, order.part)].filter((it) => it !== null).join(', ');
}

/** Until when one more of what comes from outside can be had, where fewer are to spare than are wanted. */
function spareMoments({ forecast, build, clock }: BuildPage): Moment[] {
  return spareRows(forecast).flatMap(({ part, has, wanted, by }) => {
    if (by === null) return [];
    const again = part.againAt == null ? '' : say.sparesAgain(soonText(clock, part.againAt, forecast.now));
    const href = `${screenHref(build.id, 'design')}#parts-${part.id}`;
    return [
      {
        at: by,
        kind: 'spare' as const,
        key: part.id,
        text: part.name,
        more: `${say.spares(has, wanted)}${again}`,
        href,
      },
    ];
  });
}

/** What is wanted before the rest. */
function dueMoments({ forecast, build, clock }: BuildPage): Moment[] {
  const open = (forecast.dues ?? []).filter(({ at, left }) => left > 0 || at >= forecast.now);
  return open.map(({ list, id, name, at, left, finish, clock: room }) => {
    const done = finish === null ? texts.unknown : soonText(clock, finish, forecast.now);
    const more = left === 0 ? say.dueDone(done) : momentWords(say.planned(done), room);
    const href = `${screenHref(build.id, list === 'parts' ? 'design' : 'steps')}#${list}-${id}`;
    return { at, kind: 'due' as const, key: `${list}-${id}`, text: name, more, href };
  });
}

function decisionMoments({ forecast, build, clock }: BuildPage): Moment[] {
  return forecast.decisions
    .filter((it) => it.decided === null && it.decideBy !== null)
    .map((it) => ({
      at: it.decideBy!,
      kind: 'decide' as const,
      key: it.id,
      text: questionText(forecast, it),
      more:
        it.settles === undefined
          ? (it.answers ?? [])
              .map(({ name, by }) => say.answer(name, by === null ? null : soonText(clock, by, forecast.now)))
              .join(', ')
          : texts.countdown.waiting(it.waits.map((id) => stepName(forecast, id)).join(', ')),
      href:
        it.settles === undefined
          ? `${screenHref(build.id, 'steps')}#decisions-${it.id}`
          : `${screenHref(build.id, 'design')}#parameters-${it.settles}`,
    }));
}

/** What has not been begun must start by then; what is under way must be done by then. */
function startMoments(page: BuildPage): Moment[] {
  const { forecast, build, clock } = page;
  const moments: Moment[] = [];
  for (const step of openSteps(forecast)) {
    const { levelled } = step;
    if (step.kind === 'order' || levelled === null || levelled.lastStart === null) continue;
    const begun = step.state === 'under-way' && levelled.lastFinish !== null;
    const planned = begun ? levelled.finish : levelled.start;
    moments.push({
      at: begun ? levelled.lastFinish! : levelled.lastStart,
      kind: begun ? 'finish' : 'start',
      key: step.id,
      text: step.name,
      // Worked out where it is drawn: with thousands of steps the words of all take longer than a turn.
      get more() {
        const words = say.planned(soonText(clock, planned, forecast.now));
        return momentWords(words, levelled.room ?? null, uncheckedText(forecast, step.part));
      },
      href: `${screenHref(build.id, 'steps')}#steps-${step.id}`,
    });
  }
  return moments;
}

function momentWords(planned: string, room: number | null, unchecked: string | null = null): string {
  const left = room === null ? null : `${texts.room.word} ${roomText(room)}`;
  return [planned, left, unchecked].filter((it) => it !== null).join(', ');
}

function fixedMoments({ forecast }: BuildPage): Moment[] {
  const { event, loadIn, readyBy, room } = forecast;
  const fixed = (at: number, kind: MomentKind): Moment => ({ at, kind, key: kind, text: '', more: '', href: null });
  return [
    fixed(readyBy, 'readyBy'),
    ...(loadIn === null ? [] : [fixed(loadIn, 'loadIn')]),
    fixed(event, 'event'),
    ...((room.readyBy.finish ?? 0) < forecast.now ? [] : [fixed(room.readyBy.finish!, 'ready')]),
  ];
}
