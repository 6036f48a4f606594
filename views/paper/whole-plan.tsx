/** The whole plan on paper: last moments and orders, then each day on a page of its own, for one person or for all. */
import type { ForecastSupply } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { dayTexts } from '../texts/paper/day.ts';
import { orderTexts } from '../texts/paper/orders.ts';
import type { BuildPage } from '../types.ts';
import { Scroll, supplierName } from '../words/marks.tsx';
import { type Moment, momentLine, momentsOf } from '../words/moments.ts';
import { needWords, noDayText, unitsText } from '../words/supply-words.ts';
import { money, soonText, whenText } from '../words/wording.ts';
import { DayPaper, isBlank } from './day-paper.tsx';
import { unletteredIn } from './lettering.ts';

const say = dayTexts.paper;

interface PlanProps {
  page: BuildPage;
  /** Whose days; null: everybody's. */
  person: string | null;
}

export function WholePlanPage(props: PlanProps): Html {
  return (
    <BuildLayout page={props.page} screen="paper">
      <WholePlanSheet {...props} />
    </BuildLayout>
  );
}

export function WholePlanSheet({ page, person }: PlanProps): Html {
  const href = screenHref(page.build.id, 'paper');
  const days = page.forecast.days.filter((day) => !isBlank(day, person));
  const letters = unletteredIn(namesIn(page), MOST_LETTERS);
  return (
    <Sheet page={page} screen="paper" refresh={person === null ? href : `${href}?person=${person}`}>
      <h1>{page.build.name}</h1>
      <p class="quiet on-screen">{say.intro}</p>
      {letters.length === 0 ? null : <p class="quiet on-screen">{say.machineLetters(letters.join(' '))}</p>}
      <People page={page} person={person} href={href} />
      <p>{say.asOf(soonText(page.clock, page.computedAt, page.forecast.now))}</p>
      <section aria-labelledby="paper-moments">
        <h2 id="paper-moments">{say.moments}</h2>
        <ul class="paper-moments">
          <ListInTurns>
            {momentsOf(page).map((moment) => (
              <MomentLine key={`${moment.kind} ${moment.key}`} page={page} moment={moment} />
            ))}
          </ListInTurns>
        </ul>
      </section>
      <OrderTable page={page} />
      {days.length === 0 ? <p>{say.noDays}</p> : null}
      {days.map((day) => (
        <InTurns key={day.date}>
          <DayPaper page={page} day={day} person={person} />
        </InTurns>
      ))}
    </Sheet>
  );
}

function MomentLine({ page, moment }: { page: BuildPage; moment: Moment }): Html {
  return (
    <li>
      <b>{whenText(page.clock, moment.at, page.forecast.now)}</b> {momentLine(moment)}
    </li>
  );
}

/** Letters that are shown as examples of those that the machine must bring. */
const MOST_LETTERS = 5;

/** What the maker named that the plan prints. */
function namesIn({ build, forecast }: BuildPage): string {
  const { steps, supplies = [] } = forecast;
  const named = [...steps, ...supplies, ...(build.people ?? []), ...(build.machines ?? []), ...(build.suppliers ?? [])];
  return [build.name, ...named.map(({ name }) => name), ...forecast.decisions.map((one) => one.question)].join(' ');
}

interface PeopleProps extends PlanProps {
  href: string;
}

/** For whom the sheet is: everybody, or one of them. */
export function People({ page, person, href }: PeopleProps): Html | null {
  const people = page.build.people ?? [];
  if (people.length < 2) return null;
  return (
    <nav class="people" aria-label={dayTexts.whose}>
      <a href={href} aria-current={person === null ? 'page' : undefined}>
        {dayTexts.everybody}
      </a>
      {people.map(({ id, name }) => (
        <a key={id} href={`${href}?person=${id}`} aria-current={person === id ? 'page' : undefined}>
          {name}
        </a>
      ))}
    </nav>
  );
}

function OrderTable({ page }: { page: BuildPage }): Html | null {
  const supplies = (page.forecast.supplies ?? []).filter(({ state }) => state !== 'here');
  if (supplies.length === 0) return null;
  const { columns } = orderTexts;
  return (
    <section aria-labelledby="paper-orders">
      <h2 id="paper-orders">{say.orders}</h2>
      <Scroll label={say.orders}>
        <table class="facts paper-orders">
          <thead>
            <tr>
              {Object.values(columns).map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {supplies.map((supply) => (
              <OrderRow key={supply.id} page={page} supply={supply} />
            ))}
          </tbody>
        </table>
      </Scroll>
    </section>
  );
}

function OrderRow({ page, supply }: { page: BuildPage; supply: ForecastSupply }): Html {
  const { forecast, clock, build } = page;
  const { name, supplier, measure, toOrder, orderBy, arrives, state, cost } = supply;
  const when = (at: number | null) => (at === null ? '' : whenText(clock, at, forecast.now));
  const noDay = toOrder > 0 ? noDayText(forecast, clock, supply.step) : null;
  return (
    <tr>
      <th scope="row">
        {name} <span class="quiet small">{[...needWords(supply), ...(noDay === null ? [] : [noDay])].join(', ')}</span>
      </th>
      <td>{supplier === null ? '' : supplierName(build, supplier)}</td>
      <td>{toOrder > 0 ? unitsText(toOrder, name, measure) : ''}</td>
      <td>{when(orderBy)}</td>
      <td>{when(arrives)}</td>
      <td>{orderTexts.states[state]}</td>
      <td>{cost === null ? '' : money(cost, forecast.currency)}</td>
    </tr>
  );
}
