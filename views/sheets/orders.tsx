/**
 * Orders: what to buy from whom, the last moment for it, how far it has come, and a tap for what was ordered or came.
 */
import type { ForecastSupply, LogEntry, Problem } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import { UncheckedWords } from '../parts/unchecked.tsx';
import { type Html, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { orderTexts as say } from '../texts/paper/orders.ts';
import type { BuildPage } from '../types.ts';
import { machineName, supplierName } from '../words/marks.tsx';
import { loadsInIt, needWords, noDayText, orderByText, outTexts, unitsText } from '../words/supply-words.ts';
import { figure, money, soonText } from '../words/wording.ts';

/** What was logged last of an order, and where it can be taken back the id of that. */
interface Told {
  readonly kind: 'ordered' | 'received' | 'promised';
  readonly entry: LogEntry;
  readonly at: number;
}

export interface OrdersProps {
  page: BuildPage;
  /** By step, what was logged of it last and not undone. */
  told: ReadonlyMap<string, Told>;
  /** Names the next entry of a step: the same as long as nothing more was logged, so that a second tap counts once. */
  entryId: (step: string, kind: string) => string;
  problems: readonly Problem[];
}

export function OrdersPage(props: OrdersProps): Html {
  return (
    <BuildLayout page={props.page} screen="orders">
      <OrdersSheet {...props} />
    </BuildLayout>
  );
}

export function OrdersSheet(props: OrdersProps): Html {
  const { page, problems } = props;
  const supplies = page.forecast.supplies ?? [];
  const groups = groupsOf(supplies);
  return (
    <Sheet page={page} screen="orders" refresh={screenHref(page.build.id, 'orders')}>
      <h1>{texts.screens.orders}</h1>
      <p class="quiet">{say.intro}</p>
      <SheetProblems problems={problems} />
      {supplies.length === 0 ? <p>{say.nothing}</p> : null}
      {groups.map(([group, own]) => (
        <Group key={group} group={group} supplies={own} {...props} />
      ))}
      <Loads page={page} />
      <p class="orders-links">
        <a class="day-link" href={screenHref(page.build.id, 'money')}>
          {say.toMoney}
        </a>
        <a class="day-link" href={`${screenHref(page.build.id, 'tables')}/orders.csv`} download>
          {say.asTable}
        </a>
      </p>
    </Sheet>
  );
}

type GroupName = keyof typeof say.groups;

function groupsOf(supplies: readonly ForecastSupply[]): [GroupName, ForecastSupply[]][] {
  const groups: Record<GroupName, ForecastSupply[]> = { order: [], way: [], nobody: [], here: [] };
  for (const supply of supplies) groups[groupOf(supply)].push(supply);
  return (Object.entries(groups) as [GroupName, ForecastSupply[]][]).filter(([, own]) => own.length > 0);
}

function groupOf({ state, toOrder }: ForecastSupply): GroupName {
  if (state === 'here' || state === 'nobody') return state;
  return toOrder > 0 ? 'order' : 'way';
}

interface GroupProps extends OrdersProps {
  group: GroupName;
  supplies: readonly ForecastSupply[];
}

/** One state of things, supplier by supplier; what is here is folded. */
function Group({ group, supplies, ...props }: GroupProps): Html {
  const lists = bySupplier(supplies).map(([supplier, own]) => (
    <div class="orders-from" key={supplier ?? ''}>
      <h3>{fromText(props.page, supplier)}</h3>
      <ul class="orders">
        <ListInTurns>
          {own.map((supply) => (
            <Line key={supply.id} supply={supply} {...props} />
          ))}
        </ListInTurns>
      </ul>
    </div>
  ));
  const title = `orders-${group}`;
  if (group === 'here')
    return (
      <details class="orders-here">
        <summary>
          {say.groups.here} ({supplies.length})
        </summary>
        {lists}
      </details>
    );
  return (
    <section aria-labelledby={title}>
      <div class="heading">
        <h2 id={title}>{say.groups[group]}</h2>
      </div>
      {group === 'nobody' ? <p class="quiet">{say.nobodyNote}</p> : null}
      {lists}
    </section>
  );
}

/** Suppliers in the order of their most urgent thing. */
function bySupplier(supplies: readonly ForecastSupply[]): [string | null, ForecastSupply[]][] {
  const groups = new Map<string | null, ForecastSupply[]>();
  for (const supply of supplies) groups.set(supply.supplier, [...(groups.get(supply.supplier) ?? []), supply]);
  return [...groups];
}

function fromText({ build }: BuildPage, supplier: string | null): string {
  if (supplier === null) return say.fromNobody;
  const cutOff = build.suppliers?.find(({ id }) => id === supplier)?.cutOff;
  const from = say.from(supplierName(build, supplier));
  return cutOff === undefined ? from : `${from}, ${say.cutOff(cutOff)}`;
}

function Line({ supply, ...props }: OrdersProps & { supply: ForecastSupply }): Html {
  const { page } = props;
  const { forecast, clock } = page;
  const { name, measure, units, state, step, cost, part } = supply;
  const isLate = (supply.orderBy ?? forecast.now) < forecast.now;
  const orderBy = [orderByText(forecast, clock, supply), supply.toOrder > 0 ? noDayText(forecast, clock, step) : null];
  const more = [
    ...needWords(supply),
    ...(state === 'part-here' ? [say.notHere(figure(Math.max(0, units - supply.here)), figure(units))] : []),
    ...momentWords(page, supply),
    ...(part === null ? [] : [cost === null ? say.noPrice : money(cost, forecast.currency)]),
  ];
  return (
    <li id={`order-of-${supply.id}`}>
      <p>
        <strong>{unitsText(unitsInState(supply), name, measure)}</strong>{' '}
        <span class="order-state">{say.states[state]}</span>
        <UncheckedWords page={page} part={part} />
      </p>
      {orderBy.map((line) => (line === null ? null : <p class={isLate ? 'threat' : undefined}>{line}</p>))}
      {outTexts(forecast, clock, supply).map((out) => (
        <p key={out}>{out}</p>
      ))}
      <p class="quiet small">{more.join(', ')}</p>
      {step === null ? null : <Taps step={step} supply={supply} {...props} />}
    </li>
  );
}

/** How many its state is about: what is still to be ordered, else what was ordered, be it more than is needed. */
function unitsInState({ units, here, onTheWay, toOrder, state }: ForecastSupply): number {
  if (toOrder > 0) return toOrder;
  return state === 'part-here' ? units : Math.max(units, here + onTheWay);
}

function momentWords({ forecast, clock }: BuildPage, { arrives, neededBy }: ForecastSupply): string[] {
  const when = (at: number) => soonText(clock, at, forecast.now);
  return [
    ...(arrives === null ? [] : [say.arrives(when(arrives))]),
    ...(neededBy === null ? [] : [say.neededBy(when(neededBy))]),
  ];
}

interface TapsProps extends OrdersProps {
  step: string;
  supply: ForecastSupply;
}

/** A tap for what was ordered and one for what came, each with a number that may be changed; and the last one back. */
function Taps({ page, told, entryId, step, supply }: TapsProps): Html {
  const { toOrder, onTheWay, state } = supply;
  const action = screenHref(page.build.id, 'orders');
  const last = told.get(step);
  const form = (kind: 'ordered' | 'received', units: number) => (
    <WhileOpen key={kind}>
      <form class="order-tap" {...sheetForm(action)}>
        <input type="hidden" name="step" value={step} />
        <input type="hidden" name="entry" value={entryId(step, kind)} />
        <label>
          <span class="heard">
            {say.log.howMany(supply.name, supply.measure.unit !== null && supply.measure.pack !== 1)}
          </span>
          <input name="n" type="number" inputmode="numeric" min={1} max={1_000_000} step={1} value={units} />
        </label>
        <button type="submit" name="kind" value={kind}>
          {say.log[kind]}
          <span class="heard"> {supply.name}</span>
        </button>
      </form>
    </WhileOpen>
  );
  return (
    <div class="order-taps">
      {toOrder > 0 ? form('ordered', toOrder) : null}
      {state !== 'here' ? form('received', onTheWay > 0 ? onTheWay : toOrder) : null}
      {last === undefined ? null : (
        <WhileOpen>
          <form class="order-tap" {...sheetForm(action)}>
            <input type="hidden" name="entry" value={entryId(step, 'undo')} />
            <input type="hidden" name="undoes" value={last.entry.id} />
            <span class="quiet small">{toldText(page, supply, last)}</span>
            <button type="submit" name="kind" value="undo">
              {say.log.undo}
              <span class="heard"> {supply.name}</span>
            </button>
          </form>
        </WhileOpen>
      )}
    </div>
  );
}

function toldText(
  { forecast, clock }: BuildPage,
  { name, measure }: ForecastSupply,
  { kind, entry, at }: Told,
): string {
  const units = unitsText(entry.n ?? 1, name, measure);
  return say.log.said[kind](units, soonText(clock, at, forecast.now), entry.who ?? texts.unknown);
}

/** How many plates, trays and sheets machines still take; nothing where no machine does anything. */
function Loads({ page }: { page: BuildPage }): Html | null {
  const loads = page.forecast.loads ?? [];
  if (loads.length === 0) return null;
  return (
    <section aria-labelledby="loads-title">
      <div class="heading">
        <h2 id="loads-title">{say.loads}</h2>
      </div>
      <p class="quiet">{say.loadsNote}</p>
      <ul class="plain">
        {loads.map(({ step, name, machine, size, total, left }) => (
          <li key={step}>
            <a href={`${screenHref(page.build.id, 'steps')}#steps-${step}`}>{name}</a>{' '}
            <span class="quiet">
              {say.loadLine(
                figure(left),
                figure(total),
                machineName(page.build, machine),
                figure(size),
                loadsInIt(page.forecast, step),
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
