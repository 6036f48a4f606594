/** Plans under each other on one rule of days: when each is ready against the ready-by, and how likely that is. */
import { type ScaleLinear, scaleLinear } from 'd3-scale';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { WallClock, WallDay } from '../wall-clock.ts';
import { chanceText, figure, roomText, whenText } from '../words/wording.ts';
import { At, DimensionLine } from './drawing.tsx';

/** A plan as the rule shows it; instants in minutes since the epoch. */
export interface PlanOnRule {
  readonly key: string;
  readonly name: string;
  /** Where on the sheet there is more of it. */
  readonly href?: string;
  /** Null: it has no date. */
  readonly readyAt: number | null;
  readonly readyBy: number;
  /** Share from 0 to 1; null: not known. */
  readonly chance: number | null;
  /** What the chance differs by, in words; empty: nothing. */
  readonly differs: string;
}

interface PlansRuleProps {
  clock: WallClock;
  now: number;
  label: string;
  /** The present plan first: all others are compared with it. */
  plans: readonly PlanOnRule[];
}

const MINUTES_PER_DAY = 1440;
/** Days that are named at most; more are marked alone. */
const DAYS_NAMED = 7;
const DAYS_MARKED = 90;

type Percent = (instant: number) => string;

interface Drawn {
  readonly at: Percent;
  readonly scale: ScaleLinear<number, number>;
  readonly days: readonly WallDay[];
  readonly present: PlanOnRule;
}

export function PlansRule({ clock, now, label, plans }: PlansRuleProps): Html {
  const drawn = drawnOf(clock, plans);
  return (
    <section class="plans" aria-label={label}>
      <DayNames clock={clock} now={now} drawn={drawn} />
      <ul>
        {plans.map((plan) => (
          <PlanRow key={plan.key} clock={clock} now={now} plan={plan} drawn={drawn} />
        ))}
      </ul>
    </section>
  );
}

function drawnOf(clock: WallClock, plans: readonly PlanOnRule[]): Drawn {
  const instants = plans.flatMap(({ readyAt, readyBy }) => [readyBy, ...(readyAt === null ? [] : [readyAt])]);
  const [first, last] = [Math.min(...instants), Math.max(...instants)];
  const edge = Math.max(MINUTES_PER_DAY, last - first) * 0.06;
  const scale = scaleLinear()
    .domain([first - edge, last + edge])
    .range([0, 100]);
  const [from, to] = scale.domain() as [number, number];
  const days = clock.days(Math.floor(from), Math.ceil(to)).filter(({ start }) => start >= from);
  return { scale, at: (instant) => `${scale(instant).toFixed(2)}%`, days, present: plans[0]! };
}

/** The days above the rows, as many as there is room for, and the ready-by as its notch. */
function DayNames({ clock, now, drawn }: { clock: WallClock; now: number; drawn: Drawn }): Html {
  const { at, days, present, scale } = drawn;
  const every = Math.ceil(days.length / DAYS_NAMED);
  const place = scale(present.readyBy);
  return (
    <div class="plans-head">
      <svg width="100%" height="2.9rem" aria-hidden="true" focusable="false">
        <text
          class="plans-target"
          x={at(present.readyBy)}
          y="0.9rem"
          text-anchor={place > 60 ? 'end' : place < 20 ? 'start' : 'middle'}
        >
          {texts.rule.target(texts.target.readyBy, whenText(clock, present.readyBy, now))}
        </text>
        <At x={at(present.readyBy)} y="1.15rem">
          <path class="plans-notch" d="M-5 0 L5 0 L0 8 Z" />
        </At>
        {days.map(({ date, day, start }, i) =>
          i % every === 0 ? (
            <text key={date} class="plans-day" x={at(start)} y="2.75rem">
              {figure(day)}
            </text>
          ) : null,
        )}
      </svg>
    </div>
  );
}

interface PlanRowProps {
  clock: WallClock;
  now: number;
  plan: PlanOnRule;
  drawn: Drawn;
}

function PlanRow({ clock, now, plan, drawn }: PlanRowProps): Html {
  const { name, href, readyAt, readyBy, chance, differs } = plan;
  const room = readyAt === null ? null : readyBy - readyAt;
  const late = (room ?? 0) < 0;
  return (
    <li class={late ? 'late' : undefined}>
      <span class="plan-name">{href === undefined ? name : <a href={href}>{name}</a>}</span>
      <span class="plan-chance">
        {chance === null ? (
          <span class="quiet">{texts.options.noChance}</span>
        ) : (
          <span class="stamp stamp-s">{chanceText(chance)}</span>
        )}
        {differs === '' ? null : <span class="differs">{differs}</span>}
      </span>
      <PlanLength plan={plan} drawn={drawn} />
      <span class="plan-when">
        {readyAt === null ? texts.options.noDate : whenText(clock, readyAt, now)}{' '}
        <span class={late ? 'threat' : 'quiet'}>{room === null ? null : texts.rule.room(roomText(room))}</span>
      </span>
    </li>
  );
}

/** The room between ready and ready-by as a bare length; the present plan's ready is behind all as a thin line. */
function PlanLength({ plan: { readyAt, readyBy }, drawn }: { plan: PlanOnRule; drawn: Drawn }): Html {
  const { at, days, present } = drawn;
  return (
    <svg class="plan-length" width="100%" height="3rem" aria-hidden="true" focusable="false">
      {days.length > DAYS_MARKED
        ? null
        : days.map(({ date, start }) => (
            <line key={date} class="mark" x1={at(start)} x2={at(start)} y1="1.8rem" y2="2.3rem" />
          ))}
      <line class="plans-edge" x1="0" x2="100%" y1="1.8rem" y2="1.8rem" />
      {present.readyAt === null ? null : (
        <line class="witness" x1={at(present.readyAt)} x2={at(present.readyAt)} y1="0" y2="100%" />
      )}
      <line class="plans-by" x1={at(readyBy)} x2={at(readyBy)} y1="0" y2="100%" />
      {readyAt === null || readyAt === readyBy ? null : (
        <DimensionLine x1={at(Math.min(readyAt, readyBy))} x2={at(Math.max(readyAt, readyBy))} y="1rem" />
      )}
      {readyAt === null ? null : (
        <At x={at(readyAt)} y="1.8rem">
          <path class="plans-caret" d="M0 -1 L6 10 L-6 10 Z" />
        </At>
      )}
    </svg>
  );
}
