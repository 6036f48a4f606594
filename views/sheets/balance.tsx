/**
 * The line of balance: what passes each step over time, where one runs out of another's units, and where each should be
 * by now.
 */

import type { BalanceFeed, BalanceStep, ForecastStep } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { UncheckedWords } from '../parts/unchecked.tsx';
import { BalancePicture, type ChainLine, drawnOf } from '../pictures/balance-picture.tsx';
import { BalanceStrips } from '../pictures/balance-strips.tsx';
import { type DayColumn, DayTable } from '../pictures/day-table.tsx';
import { At, DimensionLine, Hatch } from '../pictures/drawing.tsx';
import { PenKey } from '../pictures/pens.tsx';
import { balanceHref, burnHref, numberOf, outText, stepHref } from '../pictures/picture-links.ts';
import { valueAt } from '../pictures/plot.tsx';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure, soonText, workText } from '../words/wording.ts';

const say = texts.pictures;
const OUTS_SHOWN = 4;
const PILES_SHOWN = 2;

export function BalancePage({ page }: { page: BuildPage }): Html {
  return (
    <BuildLayout page={page} screen="countdown">
      <BalanceSheet page={page} />
    </BuildLayout>
  );
}

/** A picture for each step that nothing by units comes after, with all that goes into it. */
export function BalanceSheet({ page }: { page: BuildPage }): Html {
  const balance = page.forecast.balance;
  const chains = balance?.chains ?? [];
  return (
    <Sheet page={page} screen="countdown" refresh={balanceHref(page.build.id)}>
      <h1>{say.balance}</h1>
      <p class="quiet">{chains.length === 0 ? say.noBalance : say.balanceNote}</p>
      {[...chains]
        .sort((a, b) => b.steps.length - a.steps.length)
        .map(({ end, steps }) => (
          <section key={end} class="flow-picture" aria-labelledby={`chain-${end}`}>
            <h2 id={`chain-${end}`}>{say.chain(stepName(page.forecast, end))}</h2>
            <InTurns>
              <Chain page={page} end={end} lines={steps} />
            </InTurns>
          </section>
        ))}
      <StatusLine page={page} current={null} linked={false} />
    </Sheet>
  );
}

/** What a step needs, the step, and what needs it, in its own units. */
export function NeighbourBalance({ page, step }: { page: BuildPage; step: ForecastStep }): Html | null {
  const feeds = page.forecast.balance?.feeds ?? [];
  const before = feeds.filter(({ to }) => to === step.id);
  const after = feeds.filter(({ from }) => from === step.id);
  if (before.length + after.length === 0) return null;
  const lines = [
    ...before.map(({ from, ratio }) => ({ step: from, perEnd: ratio })),
    { step: step.id, perEnd: 1 },
    ...after.map(({ to, ratio }) => ({ step: to, perEnd: 1 / ratio })),
  ];
  return (
    <section class="flow-picture" aria-labelledby="balance-title">
      <h2 id="balance-title">{say.balance}</h2>
      <Chain page={page} end={step.id} lines={lines} />
    </section>
  );
}

function Chain({ page, end, lines }: { page: BuildPage; end: string; lines: readonly ChainLine[] }): Html {
  const { forecast } = page;
  const known = new Set(lines.map(({ step }) => step));
  const feeds = (forecast.balance?.feeds ?? []).filter(({ from, to }) => known.has(from) && known.has(to));
  return (
    <>
      <figure>
        <div class="balance-whole">
          <p class="quiet small">{say.inUnitsOf(stepName(forecast, end))}</p>
          <InTurns>
            <BalancePicture page={page} lines={lines} feeds={feeds} />
          </InTurns>
          <PenKey pens={['counted', 'scheduled']} />
        </div>
        <div class="balance-apart">
          <InTurns>
            <BalanceStrips page={page} lines={lines} feeds={feeds} />
          </InTurns>
          <PenKey pens={['counted', 'scheduled', 'feeder']} />
        </div>
        <ol class="balloon-list">
          {lines.map(({ step }) => (
            <li key={step}>
              <Balloon number={numberOf(page, step)} />{' '}
              <a href={stepHref(page.build.id, step)}>{stepName(forecast, step)}</a>
            </li>
          ))}
        </ol>
      </figure>
      <InTurns>
        <Flow page={page} feeds={feeds} outs={OUTS_SHOWN} piles={PILES_SHOWN} />
      </InTurns>
      <InTurns>
        <ChainTable page={page} lines={lines} />
      </InTurns>
    </>
  );
}

/** Units that have passed each step, in its own units. */
function ChainTable({ page, lines }: { page: BuildPage; lines: readonly ChainLine[] }): Html {
  const { now } = page.forecast;
  const drawn = lines.map(({ step }) => drawnOf(page, { step, perEnd: 1 }));
  const columns = drawn.map(
    ({ step, counted: past, scheduled }): DayColumn => ({
      key: step,
      name: stepName(page.forecast, step),
      read: (at) => figure(Math.floor(at < now ? valueAt(past, at, 'step') : valueAt(scheduled, at, 'line'))),
    }),
  );
  const from = Math.min(now, ...drawn.map((line) => line.counted[0]?.[0] ?? now));
  const to = Math.max(now, ...drawn.map((line) => line.scheduled.at(-1)?.[0] ?? now));
  return <DayTable page={page} from={from} to={to} columns={columns} />;
}

/** The number of a step's ticket, ringed as on an assembly drawing. */
function Balloon({ number }: { number: number }): Html {
  return <span class="balloon">{number}</span>;
}

/** What runs out and what piles up, as sentences. */
interface FlowProps {
  page: BuildPage;
  feeds: readonly BalanceFeed[];
  /** Sentences of each kind at most. */
  outs: number;
  piles: number;
}

function Flow({ page, feeds, ...most }: FlowProps): Html {
  const outs = feeds
    .filter(({ starves }) => starves !== null)
    .sort((a, b) => a.starves!.at - b.starves!.at)
    .slice(0, most.outs)
    .map((feed) => ({ key: `out-${feed.from}-${feed.to}`, shape: 'out', text: shortText(page, feed) }));
  const piles = feeds
    .filter(({ pile }) => pile !== null)
    .sort((a, b) => b.pile!.units / b.ratio - a.pile!.units / a.ratio)
    .slice(0, most.piles)
    .map((feed) => ({ key: `pile-${feed.from}-${feed.to}`, shape: 'pile', text: pileText(page, feed) }));
  const sentences = [...outs, ...piles];
  if (sentences.length === 0) return <p class="flow-none">{say.flows}</p>;
  return (
    <ul class="flow">
      {sentences.map(({ key, shape, text }) => (
        <li key={key} class={shape}>
          {text}
        </li>
      ))}
    </ul>
  );
}

function shortText(page: BuildPage, { from, to, starves }: BalanceFeed): string {
  const { forecast, clock } = page;
  const { at, workingMinutes, times, inAllMinutes } = starves!;
  const [feeder, follower] = [from, to].map((id) => byId(forecast.steps, id)!);
  const length = workText(workingMinutes);
  const when = soonText(clock, at, forecast.now);
  const now = at <= forecast.now;
  const name = follower!.name;
  const ofPart = feeder!.part !== null && feeder!.part !== follower!.part;
  const first = ofPart
    ? now
      ? say.runsOutNow(name, feeder!.unit, length)
      : say.runsOut(name, feeder!.unit, when, length)
    : now
      ? say.waitsNow(name, feeder!.name, length)
      : say.waitsFrom(name, feeder!.name, when, length);
  return `${first}${times > 1 ? say.again(times, workText(inAllMinutes)) : ''}.`;
}

function pileText({ forecast, clock }: BuildPage, { from, to, pile }: BalanceFeed): string {
  const units = outText(forecast, from, pile!.units);
  const name = stepName(forecast, to);
  if (pile!.at <= forecast.now) return `${say.pileNow(units, name)}.`;
  return `${say.pile(units, name, soonText(clock, pile!.at, forecast.now))}.`;
}

/** For the Countdown: how many steps are short, what runs out first, and the way to the pictures. */
export function BalanceWords({ page }: { page: BuildPage }): Html | null {
  const balance = page.forecast.balance;
  if (balance === undefined || balance === null || balance.steps.length === 0) return null;
  const short = balance.steps.filter(isShort).length;
  return (
    <section class="balance-words" aria-labelledby="balance-title">
      <h2 id="balance-title">{say.balance}</h2>
      <p class={short > 0 ? 'threat' : undefined}>{short > 0 ? say.stepsShort(short) : say.noneShort}</p>
      <Flow page={page} feeds={balance.feeds} outs={2} piles={1} />
      <p class="turns">
        <a href={balanceHref(page.build.id)}>{say.toBalance}</a>
        <a href={`${burnHref(page.build.id)}#status-title`}>{say.status}</a>
      </p>
    </section>
  );
}

function isShort({ passed, due, onItsWay = 0 }: BalanceStep): boolean {
  return due !== null && passed + onItsWay < due;
}

interface StatusLineProps {
  page: BuildPage;
  /** The step whose sheet this is. */
  current: string | null;
  /** Whether there is a way to the line of balance beside it. */
  linked: boolean;
}

/** A row for each step: how many have passed and how many should have; each row leads to the step's own sheet. */
export function StatusLine({ page, current, linked }: StatusLineProps): Html | null {
  const steps = page.forecast.balance?.steps ?? [];
  if (steps.length === 0) return null;
  return (
    <section class="status" aria-labelledby="status-title">
      <div class="heading">
        <h2 id="status-title">{say.status}</h2>
        {linked ? (
          <a class="day-link" href={balanceHref(page.build.id)}>
            {say.toBalance}
          </a>
        ) : null}
      </div>
      <p class="quiet">{page.forecast.balance?.heldTo === 'first-plan' ? say.statusNoteFirst : say.statusNote}</p>
      <svg class="pens" width="0" height="0" aria-hidden="true" focusable="false">
        <defs>
          <Hatch id="hatch-status" pen="hatch-line" />
        </defs>
      </svg>
      <ol class="status-rows">
        <ListInTurns>
          {steps.map((row) => (
            <StatusRow key={row.step} page={page} row={row} current={row.step === current} />
          ))}
        </ListInTurns>
      </ol>
    </section>
  );
}

function StatusRow({ page, row, current }: { page: BuildPage; row: BalanceStep; current: boolean }): Html {
  const step = byId(page.forecast.steps, row.step)!;
  return (
    <li class={current ? 'current' : undefined}>
      <Balloon number={numberOf(page, row.step)} />
      <a href={stepHref(page.build.id, row.step)} aria-current={current ? 'true' : undefined}>
        {step.name}
      </a>
      <span class="figure">{say.passed(figure(row.passed), figure(step.total))}</span>
      <StatusStrip row={row} total={step.total} />
      <span class={isShort(row) ? 'due threat' : 'due quiet'}>
        {dueWords(page, row, step.total)}
        <UncheckedWords page={page} part={step.part} />
      </span>
    </li>
  );
}

function dueWords({ clock, forecast }: BuildPage, row: BalanceStep, total: number): string {
  const { passed, due, enoughUntil, onItsWay = 0 } = row;
  if (passed >= total) return say.allPassed;
  if (due === null) return texts.unknown;
  if (isShort(row)) return say.short(figure(due - passed - onItsWay), figure(due));
  if (passed < due) return say.onItsWay(figure(onItsWay));
  const dueNow = due === 0 ? say.noneDue : say.due(figure(due));
  if (enoughUntil === null) return dueNow;
  return `${dueNow}, ${say.enoughUntil(soonText(clock, enoughUntil, forecast.now))}`;
}

/** Hatched as far as has passed, with a notch at what should have; where it is short, the length between is drawn. */
function StatusStrip({ row, total }: { row: BalanceStep; total: number }): Html {
  const at = (units: number) => `${((100 * Math.min(units, total)) / total).toFixed(2)}%`;
  const due = row.due ?? 0;
  return (
    <svg class="status-strip" width="100%" height="1.4rem" aria-hidden="true" focusable="false">
      <rect class="strip" x="0" y="0.5rem" width="100%" height="0.7rem" />
      <rect x="0" y="0.5rem" width={at(row.passed)} height="0.7rem" fill="url(#hatch-status)" />
      {row.passed === 0 ? null : (
        <line class="strip-end" x1={at(row.passed)} x2={at(row.passed)} y1="0.4rem" y2="1.3rem" />
      )}
      {isShort(row) ? (
        <g class="short">
          <DimensionLine x1={at(row.passed)} x2={at(due)} y="0.85rem" />
        </g>
      ) : null}
      {due === 0 ? null : (
        <At x={at(due)} y="0.5rem">
          <path class="due-notch" d="M-5 -7 L5 -7 L0 3 Z" />
        </At>
      )}
    </svg>
  );
}
