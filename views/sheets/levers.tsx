/** What would buy time: levers ranked, what buys nothing and why, and until when something costs nothing. */
import type { LeverCost, LeverRow, LeverSearch, LeverSet, LeverWorth, Problem } from '../../server/model/index.ts';
import { KeepAdopt } from '../forms/keep-adopt.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { FreeUntil } from '../parts/free-until.tsx';
import { LookForm } from '../parts/look-form.tsx';
import { RightSize, type ShownSizing } from '../parts/right-size.tsx';
import { SetsWays } from '../parts/sets-ways.tsx';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import { ChanceStep, GainLength, GainMarks, type GainScale, gainScale } from '../pictures/gain-rule.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, ShownLevers } from '../types.ts';
import {
  gainedText,
  leverChanceText,
  leverCostText,
  leversText,
  leverText,
  neckText,
  presentText,
  reasonText,
  warnedTexts,
} from '../words/lever-words.ts';
import { nameOfPerson } from '../words/names.ts';
import { figure, roomText, whenText } from '../words/wording.ts';

const say = texts.levers;

/** What a button names: a row by its lever, or one of the sets. */
export function rowKey({ lever }: LeverRow): string {
  return JSON.stringify([lever.code, lever.values]);
}

interface LeversProps {
  page: BuildPage;
  /** Null: nobody has looked since the server began. */
  levers: ShownLevers | null;
  /** Null: nobody has asked. */
  sizing: ShownSizing | null;
  /** Why something could not be kept or adopted. */
  problems: readonly Problem[];
}

export function LeversPage(props: LeversProps): Html {
  return (
    <BuildLayout page={props.page} screen="levers">
      <LeversSheet {...props} />
    </BuildLayout>
  );
}

export function LeversSheet({ page, levers, sizing, problems }: LeversProps): Html {
  const href = screenHref(page.build.id, 'levers');
  const search = levers?.search ?? null;
  return (
    <Sheet page={page} screen="levers" refresh={href}>
      <h1>{say.heading}</h1>
      <SheetProblems problems={problems} />
      <LookForm
        href={href}
        button={search === null ? say.look : say.lookAgain}
        isFirst={search === null}
        state={stateText(levers)}
      />
      {search === null ? null : <Found page={page} search={search} />}
      <p class="quiet">{say.note}</p>
      <SetsWays page={page} sets={search?.sets ?? []} />
      <RightSize page={page} sizing={sizing} />
    </Sheet>
  );
}

function stateText(levers: ShownLevers | null): string {
  if (levers === null) return say.none;
  const { search, state, isStale } = levers;
  if (isStale) return say.stale;
  if (state === 'failed') return say.failed;
  if (search === null) return say.begins;
  if (state === 'running') return say.running(search.tried, search.toTry);
  return search.isDone ? say.done(search.tried, figure(search.futures)) : say.stopped(search.tried, search.toTry);
}

function Found({ page, search }: { page: BuildPage; search: LeverSearch }): Html {
  const { rows, present, neck, isDone } = search;
  const { clock } = page;
  if (present === null) return <p>{say.noDate}</p>;
  const gaining = rows.filter(({ verdict }) => verdict === 'gains');
  const priced = rows.filter(({ lever }) => lever.code === 'no-nights');
  const nothing = rows.filter((row) => row.verdict !== 'gains' && !priced.includes(row));
  const neckWords = neckText(neck, clock, search.now);
  const longest = Math.max(60, ...sumsOf(search).map((worth) => Math.abs(worth.compared?.readyAt.mean ?? 0)));
  const shared = { page, search, scale: gainScale(longest) };
  return (
    <>
      <Best page={page} search={search} row={gaining[0]} />
      <p>
        {presentText(search, clock)} {neckWords === null ? null : say.neck(neckWords)}
      </p>
      <Takes {...shared} />
      {gaining.length === 0 ? isDone ? <p>{say.nothingGains}</p> : null : <Rows {...shared} rows={gaining} />}
      <Together {...shared} title={say.pair} set={search.pair} name="pair" />
      <Together {...shared} title={say.triple} set={search.triple} name="triple" />
      {priced.length === 0 ? null : (
        <section aria-labelledby="levers-price">
          <h2 id="levers-price">{say.price}</h2>
          <Rows {...shared} rows={priced} />
        </section>
      )}
      <FreeUntil page={page} of={search} />
      <Nothing {...shared} rows={nothing} />
    </>
  );
}

/** Everything whose gain is drawn. */
function sumsOf({ rows, pair, triple, takes }: LeverSearch): LeverWorth[] {
  return [...rows, ...[pair, triple, takes].flatMap((one) => one ?? [])].filter(({ compared }) => compared !== null);
}

interface Shared {
  page: BuildPage;
  search: LeverSearch;
  /** One for all rows, pairs and triples. */
  scale: GainScale;
}

/** The answer first: what is best for what it costs, and the chance with it. */
function Best({ page, search, row }: { page: BuildPage; search: LeverSearch; row: LeverRow | undefined }): Html | null {
  if (row === undefined) return null;
  const cost = leverCostText(row.lever.cost, page.forecast.currency);
  return (
    <div class="answer">
      <ChanceStep before={search.present?.chance ?? null} after={row.chance} />
      <p class="answer-words">{say.bestIs(leverText(row.lever), gainedText(row).is, cost)}</p>
    </div>
  );
}

interface RowsProps extends Shared {
  rows: readonly LeverRow[];
}

function Rows({ page, search, scale, rows }: RowsProps): Html {
  return (
    <>
      <Marks scale={scale} />
      <ol class="levers">
        {rows.map((row) => (
          <li key={rowKey(row)}>
            <div class="lever-what">
              <strong>{leverText(row.lever)}</strong>
              <Warned page={page} row={row} />
            </div>
            <Worth page={page} worth={row} cost={row.lever.cost} now={search.now} scale={scale} />
            <KeepAdopt page={page} screen="levers" name={rowKey(row)} heard={say.of(leverText(row.lever))} />
          </li>
        ))}
      </ol>
    </>
  );
}

/** The names of the columns below, with the scale of their lengths. */
function Marks({ scale }: { scale: GainScale }): Html {
  const { room, chance, cost, ready } = say.columns;
  return (
    <div class="levers-head" aria-hidden="true">
      <span>{room}</span>
      <div class="lever-worth">
        <GainMarks scale={scale} />
        <span>{chance}</span>
        <span>{cost}</span>
        <span>{ready}</span>
      </div>
    </div>
  );
}

function Warned({ page, row }: { page: BuildPage; row: LeverRow }): Html | null {
  const added = row.lever.changes.flatMap((it) => (it.kind === 'put' && it.list === 'people' ? [it] : []));
  const nameOf = (person: string) =>
    String(added.find(({ key }) => key === person)?.thing.name ?? nameOfPerson(page.forecast, person));
  const words = warnedTexts(row, nameOf);
  return words.length === 0 ? null : <p class="small threat">{say.warns(words.join('; '))}</p>;
}

interface WorthProps {
  page: BuildPage;
  worth: LeverWorth;
  cost: LeverCost;
  now: number;
  scale: GainScale;
}

/** What it gains as a length and in words, the chance with it, and what it costs. */
function Worth({ page, worth, cost, now, scale }: WorthProps): Html {
  const room = gainedText(worth);
  const chance = leverChanceText(worth);
  const { columns } = say;
  const { compared } = worth;
  return (
    <dl class="lever-worth">
      <div class="lever-room">
        <dt>{columns.room}</dt>
        <dd>
          {compared === null ? null : (
            <GainLength gain={{ ...compared.readyAt, mean: -compared.readyAt.mean }} scale={scale} />
          )}
          <strong>{room.is}</strong> {room.error === '' ? null : <span class="quiet">{room.error}</span>}
        </dd>
      </div>
      <div class="lever-chance">
        <dt>{columns.chance}</dt>
        <dd>
          <span class="stamp stamp-s">{chance.is}</span>{' '}
          {chance.differs === '' ? null : <span class="differs">{chance.differs}</span>}
        </dd>
      </div>
      <div>
        <dt>{columns.cost}</dt>
        <dd>
          <strong>{leverCostText(cost, page.forecast.currency)}</strong>
        </dd>
      </div>
      <div>
        <dt>{columns.ready}</dt>
        <dd>{worth.readyAt === null ? '' : whenText(page.clock, worth.readyAt, now)}</dd>
      </div>
    </dl>
  );
}

interface TogetherProps extends Shared {
  title: string;
  set: LeverSet | null;
  name: 'pair' | 'triple' | 'takes';
}

function Together({ page, search, scale, title, set, name }: TogetherProps): Html | null {
  if (set === null) return null;
  const rows = set.rows.map((place) => search.rows[place]!);
  const cost = rows.reduce<LeverCost>(
    (all, { lever }) => ({
      money: lever.cost.money === null || all.money === null ? null : all.money + lever.cost.money,
      handsMinutes: all.handsMinutes + lever.cost.handsMinutes,
    }),
    { money: 0, handsMinutes: 0 },
  );
  return (
    <section aria-labelledby={`levers-${name}`}>
      <h2 id={`levers-${name}`}>{title}</h2>
      <Marks scale={scale} />
      <ol class="levers">
        <li>
          <ul class="plain lever-what">
            {rows.map((row) => (
              <li key={rowKey(row)}>
                <strong>{leverText(row.lever)}</strong>
              </li>
            ))}
          </ul>
          <Worth page={page} worth={set} cost={cost} now={search.now} scale={scale} />
          <KeepAdopt page={page} screen="levers" name={name} heard={say.of(leversText(rows))} />
        </li>
      </ol>
    </section>
  );
}

/** Where the date is missed: what keeps it, or how near it comes. */
function Takes(shared: Shared): Html | null {
  const { takes, present, isDone } = shared.search;
  if (present === null || present.room === null || present.room >= 0) return null;
  if (takes === null) return isDone ? <p class="threat">{say.takesNothing}</p> : null;
  if (takes.keeps && takes.rows.length === 1) {
    const { lever } = shared.search.rows[takes.rows[0]!]!;
    return <p>{say.takesOne(leverText(lever), roomText(takes.room))}</p>;
  }
  const words = takes.keeps ? say.takesKeeps(roomText(takes.room)) : say.takesShort(roomText(takes.room));
  return (
    <>
      <p class={takes.keeps ? undefined : 'threat'}>{words}</p>
      <Together {...shared} title={say.takes} set={takes} name="takes" />
    </>
  );
}

/** What buys nothing, each with the reason, folded away. */
function Nothing({ page, search, rows }: RowsProps): Html | null {
  if (rows.length === 0) return null;
  return (
    <details>
      <summary>
        {say.buysNothing} ({figure(rows.length)})
      </summary>
      <ul>
        {rows.map((row) => (
          <li key={rowKey(row)}>
            {leverText(row.lever)}
            {row.reason === null ? null : <span class="quiet">: {reasonText(row.reason, page.clock, search.now)}</span>}
          </li>
        ))}
      </ul>
    </details>
  );
}
