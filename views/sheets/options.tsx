/**
 * Options: the present plan and up to five others side by side, each with what it changes, and the ways to adopt or
 * drop it.
 */
import { type Forecast, type FuturesCompared, messageOf, type Problem } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { type FigureRow, FigureRows } from '../parts/figure-rows.tsx';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import { ChanceStep } from '../pictures/gain-rule.tsx';
import { type PlanOnRule, PlansRule } from '../pictures/plans-rule.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { type EditLine, lineText } from '../words/edit-words.ts';
import { threatText } from '../words/threat-words.ts';
import {
  averageText,
  beyondTexts,
  changeText,
  figuresOf,
  movedText,
  orderTexts,
  type PlanFigures,
  pointsText,
} from '../words/what-if-words.ts';
import { chanceText, figure, money, roomText, soonText, whenText, workText } from '../words/wording.ts';

const say = texts.options;

/** How far an option is, and what it comes to. */
type ShownState =
  | { readonly kind: 'waits' | 'failed' }
  | { readonly kind: 'tried'; readonly forecast: Forecast; readonly compared: FuturesCompared | null }
  | { readonly kind: 'misfit' | 'impossible'; readonly problems: readonly Problem[] };

interface ShownOption {
  readonly number: number;
  readonly name: string;
  /** Minutes since the epoch. */
  readonly savedAt: number;
  readonly who: string;
  readonly lines: readonly EditLine[];
  readonly state: ShownState;
}

interface OptionsProps {
  page: BuildPage;
  /** The present plan, worked out as the options are; null where it is not yet. */
  present: Forecast | null;
  options: readonly ShownOption[];
  /** Why something could not be adopted or dropped. */
  problems: readonly Problem[];
}

export function OptionsPage(props: OptionsProps): Html {
  return (
    <BuildLayout page={props.page} screen="options">
      <OptionsSheet {...props} />
    </BuildLayout>
  );
}

export function OptionsSheet({ page, present, options, problems }: OptionsProps): Html {
  const futures = options.flatMap(({ state }) => (state.kind === 'tried' ? (state.compared?.futures ?? []) : []));
  return (
    <Sheet page={page} screen="options" refresh={screenHref(page.build.id, 'options')}>
      <h1>{say.heading}</h1>
      <SheetProblems problems={problems} />
      {options.length === 0 ? (
        <p>{say.none}</p>
      ) : (
        <>
          <Beside page={page} present={present} options={options} />
          <div class="options">
            <Present page={page} present={present} />
            {options.map((option) => (
              <Option key={option.number} page={page} present={present} option={option} />
            ))}
          </div>
          {futures.length === 0 ? null : <p class="quiet">{say.differences(figure(Math.min(...futures)))}</p>}
          <p class="quiet">{say.note}</p>
          <p class="quiet">{say.adoptNote}</p>
        </>
      )}
    </Sheet>
  );
}

/** The answer first: which is surest, then all on one rule. */
function Beside({ page, present, options }: Omit<OptionsProps, 'problems'>): Html | null {
  if (present === null) return <p>{say.waits}</p>;
  const row = (key: string, name: string, forecast: Forecast, compared: FuturesCompared | null): PlanOnRule => {
    const { readyAt, chance } = figuresOf(forecast);
    const differs = compared === null ? '' : pointsText(compared.readyBy, compared.futures);
    return { key, name, href: `#option-${key}`, readyAt, readyBy: forecast.readyBy, chance, differs };
  };
  const tried = triedOf(options);
  return (
    <>
      <Surest present={present} tried={tried} />
      <PlansRule
        clock={page.clock}
        now={present.now}
        label={say.rooms}
        plans={[
          row('present', say.present, present, null),
          ...tried.map(({ number, name, state }) => row(String(number), name, state.forecast, state.compared)),
        ]}
      />
    </>
  );
}

type TriedOption = ShownOption & { readonly state: Extract<ShownState, { kind: 'tried' }> };

function triedOf(options: readonly ShownOption[]): TriedOption[] {
  return options.filter((option): option is TriedOption => option.state.kind === 'tried');
}

/** The option with which the date is surest, where that is more than its error twice. */
function Surest({ present, tried }: { present: Forecast; tried: readonly TriedOption[] }): Html | null {
  const surely = tried.filter(({ state: { compared } }) => {
    const { mean, error } = compared?.readyBy ?? { mean: 0, error: 0 };
    return mean > 2 * error;
  });
  const gainOf = ({ state }: TriedOption) => state.compared!.readyBy.mean;
  const [best] = [...surely].sort((a, b) => gainOf(b) - gainOf(a));
  if (best === undefined) return tried.length === 0 ? null : <p class="answer-words">{say.noneSurer}</p>;
  return (
    <div class="answer">
      <ChanceStep before={figuresOf(present).chance} after={figuresOf(best.state.forecast).chance} />
      <p class="answer-words">{say.surest(best.name)}</p>
    </div>
  );
}

function Present({ page, present }: Pick<OptionsProps, 'page' | 'present'>): Html {
  return (
    <section class="option" id="option-present" aria-labelledby="option-present-name">
      <h2 id="option-present-name">{say.present}</h2>
      {present === null ? (
        <p>{say.waits}</p>
      ) : (
        <Figures page={page} present={null} forecast={present} compared={null} />
      )}
    </section>
  );
}

interface OptionProps {
  page: BuildPage;
  present: Forecast | null;
  option: ShownOption;
}

function Option({ page, present, option }: OptionProps): Html {
  const { number, name, state } = option;
  return (
    <section class="option" id={`option-${number}`} aria-labelledby={`option-${number}-name`}>
      <h2 id={`option-${number}-name`}>{name}</h2>
      <State page={page} present={present} state={state} />
      <Changes page={page} present={present} option={option} />
      <WhileOpen>
        <form class="buttons" {...sheetForm(screenHref(page.build.id, 'options'))}>
          <input type="hidden" name="edit" value={page.revision} />
          {state.kind === 'misfit' || state.kind === 'impossible' ? null : (
            <button type="submit" name="adopt" value={number} class="main">
              {say.adopt}
              <span class="heard"> {say.of(name)}</span>
            </button>
          )}
          <button type="submit" name="drop" value={number}>
            {say.drop}
            <span class="heard"> {say.of(name)}</span>
          </button>
        </form>
      </WhileOpen>
    </section>
  );
}

function State({ page, present, state }: { page: BuildPage; present: Forecast | null; state: ShownState }): Html {
  switch (state.kind) {
    case 'tried':
      return <Figures page={page} present={present} forecast={state.forecast} compared={state.compared} />;
    case 'misfit':
    case 'impossible':
      return <Wrong says={say[state.kind]} problems={state.problems} />;
    default:
      return <p>{say[state.kind]}</p>;
  }
}

const PROBLEMS_SHOWN = 5;

function Wrong({ says, problems }: { says: string; problems: readonly Problem[] }): Html {
  return (
    <div class="untold">
      <p class="threat">{says}</p>
      <ul>
        {problems.slice(0, PROBLEMS_SHOWN).map((it) => (
          <li key={it.message}>{messageOf(it)}</li>
        ))}
      </ul>
    </div>
  );
}

const LINES_SHOWN = 6;

function Changes({ page, present, option: { lines, who, savedAt, state } }: OptionProps): Html {
  const more = lines.length - LINES_SHOWN;
  const beyond = present === null || state.kind !== 'tried' ? [] : beyondTexts(present, state.forecast);
  return (
    <div class="option-changes">
      <h3>{say.changes}</h3>
      <ul>
        {lines.slice(0, LINES_SHOWN).map((line) => (
          <li key={JSON.stringify(line)}>{lineText(line)}</li>
        ))}
        {more > 0 ? <li>{texts.history.more(more)}</li> : null}
      </ul>
      {beyond.map((text) => (
        <p key={text} class="threat">
          {text}
        </p>
      ))}
      <p class="quiet small">{say.kept(who, soonText(page.clock, savedAt, page.forecast.now))}</p>
    </div>
  );
}

interface FiguresProps {
  page: BuildPage;
  /** What it stands beside; null for the present plan itself. */
  present: Forecast | null;
  forecast: Forecast;
  compared: FuturesCompared | null;
}

/** A figure, and what of it is other than now. */
function Figures(props: FiguresProps): Html {
  return <FigureRows rows={rowsOf(props)} />;
}

function rowsOf({ page, present, forecast, compared }: FiguresProps): FigureRow[] {
  const now = figuresOf(forecast);
  const was = present === null ? now : figuresOf(present);
  const { clock } = page;
  const date = (name: string, of: (figures: PlanFigures) => number | null, differs?: string): FigureRow => {
    const at = of(now);
    const moved = present === null || of(was) === at ? '' : movedText(of(was), at);
    return { name, is: at === null ? say.noDate : whenText(clock, at, forecast.now), differs: differs ?? moved };
  };
  const amount = (name: string, of: (figures: PlanFigures) => number, words: (n: number) => string): FigureRow => ({
    name,
    is: words(of(now)),
    differs: changeText(of(was), of(now), words),
  });
  const average = compared === null ? '' : averageText(compared);
  return [
    date(say.figure.ready, ({ readyAt }) => readyAt),
    { name: say.figure.room, is: roomText(now.room), differs: average },
    {
      name: say.figure.chance,
      is: now.chance === null ? say.noChance : chanceText(now.chance),
      differs: compared === null ? '' : pointsText(compared.readyBy, compared.futures),
    },
    ...(now.installed === null
      ? []
      : [
          {
            name: say.figure.installed,
            is: chanceText(now.installed),
            differs: compared === null ? '' : pointsText(compared.event, compared.futures),
          },
        ]),
    date(say.figure.readyLikely, ({ half }) => half),
    date(say.figure.readyMostly, ({ mostly }) => mostly),
    partsRow(was, now),
    amount(say.figure.hands, ({ handsMinutes }) => handsMinutes, workText),
    amount(say.figure.machines, ({ machineMinutes }) => machineMinutes, workText),
    moneyRow(was, now, forecast.currency),
    threatRow(page, forecast),
    ...(present === null ? [] : [ordersRow(page, present, forecast)]),
  ];
}

function partsRow(was: PlanFigures, { make, buy }: PlanFigures): FigureRow {
  const differs = changeText(was.make + was.buy, make + buy, (n) => figure(n));
  return { name: say.figure.parts, is: say.parts(figure(make), figure(buy)), differs };
}

function moneyRow(was: PlanFigures, { money: sums }: PlanFigures, currency: string): FigureRow {
  const words = (n: number) => money(n, currency);
  if (sums === null) return { name: say.figure.money, is: say.noCost, differs: '' };
  const { total, committed, toCome, contingency } = sums;
  const is = say.money(words(total), words(committed), words(toCome), contingency === 0 ? null : words(contingency));
  return { name: say.figure.money, is, differs: changeText(was.money?.total ?? 0, total, words) };
}

const ORDERS_SHOWN = 3;

function ordersRow({ clock }: BuildPage, present: Forecast, forecast: Forecast): FigureRow {
  const moved = orderTexts(clock, present, forecast);
  const more = moved.length - ORDERS_SHOWN;
  const shown = [...moved.slice(0, ORDERS_SHOWN), ...(more > 0 ? [say.moreOrders(more)] : [])];
  return { name: say.figure.orders, is: shown.length === 0 ? say.ordersStay : shown.join('; '), differs: '' };
}

function threatRow({ clock }: BuildPage, forecast: Forecast): FigureRow {
  const [worst] = forecast.threats ?? [];
  const is = worst === undefined ? say.noThreat : threatText(forecast, clock, worst);
  return { name: say.figure.threat, is, differs: '' };
}
