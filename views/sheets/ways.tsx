/** Make or send out: for each part its ways side by side, at which quantity it turns, and the part split. */
import {
  type LeverWorth,
  messageOf,
  type PartWays,
  type Problem,
  type WayFigures,
  type WaysBeside,
} from '../../server/model/index.ts';
import { KeepAdopt } from '../forms/keep-adopt.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { FigureRows } from '../parts/figure-rows.tsx';
import { LookForm } from '../parts/look-form.tsx';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import { UncheckedMark } from '../parts/unchecked.tsx';
import { type PlanOnRule, PlansRule } from '../pictures/plans-rule.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { leverChanceText } from '../words/lever-words.ts';
import {
  nameOf,
  splitFigures,
  splitText,
  turnTexts,
  type WayTerms,
  wantedText,
  wayRows,
  waysPresentText,
} from '../words/way-words.ts';
import { figure } from '../words/wording.ts';

const say = texts.ways;

/** The ways as far as they are worked out; `found` null: nothing is yet. */
interface ShownWays {
  readonly found: WaysBeside | null;
  readonly state: 'running' | 'ended' | 'failed';
  readonly isStale: boolean;
}

interface WaysProps {
  page: BuildPage;
  /** Null: nobody has asked since the server began. */
  ways: ShownWays | null;
  /** Why something could not be kept or adopted. */
  problems: readonly Problem[];
}

/** What a button names: a way of a part, or a number of its units by a way. */
export function wayKey(part: string, way: string, units?: number): string {
  return JSON.stringify(units === undefined ? [part, way] : [part, way, units]);
}

export function WaysPage(props: WaysProps): Html {
  return (
    <BuildLayout page={props.page} screen="ways">
      <WaysSheet {...props} />
    </BuildLayout>
  );
}

export function WaysSheet({ page, ways, problems }: WaysProps): Html {
  const href = screenHref(page.build.id, 'ways');
  const found = ways?.found ?? null;
  return (
    <Sheet page={page} screen="ways" refresh={href}>
      <h1>{say.heading}</h1>
      <SheetProblems problems={problems} />
      <LookForm
        href={href}
        button={found === null ? say.look : say.lookAgain}
        isFirst={found === null}
        state={stateText(ways)}
      />
      {found === null ? null : <Found page={page} found={found} />}
      <p class="quiet">{say.note}</p>
    </Sheet>
  );
}

function stateText(ways: ShownWays | null): string {
  if (ways === null) return say.none;
  const { found, state, isStale } = ways;
  if (isStale) return say.stale;
  if (state === 'failed') return say.failed;
  if (state === 'running') return say.running(found?.parts.length ?? 0);
  if (found === null || !found.isDone) return say.stopped;
  return found.parts.length === 0 ? '' : say.done(figure(found.futures));
}

function Found({ page, found }: { page: BuildPage; found: WaysBeside }): Html {
  if (found.present === null) return <p>{say.noDate}</p>;
  const terms = { clock: page.clock, now: found.now, currency: page.forecast.currency };
  if (found.parts.length === 0 && found.isDone) {
    return (
      <p>
        {say.noParts} <a href={screenHref(page.build.id, 'design')}>{say.toDesign}</a>
      </p>
    );
  }
  return (
    <>
      <p>{waysPresentText(found, page.clock)}</p>
      {found.parts.map((part) => (
        <PartSection key={part.part} page={page} part={part} terms={terms} readyBy={found.readyBy} />
      ))}
    </>
  );
}

interface PartProps {
  page: BuildPage;
  part: PartWays;
  terms: WayTerms;
  /** The ready-by of the plan. */
  readyBy: number;
}

function PartSection(props: PartProps): Html {
  const { part, terms } = props;
  return (
    <section class="part-ways" id={`ways-${part.part}`} aria-labelledby={`ways-${part.part}-name`}>
      <h2 id={`ways-${part.part}-name`}>
        {part.name} <span class="quiet small">{wantedText(part)}</span>
      </h2>
      <UncheckedMark page={props.page} part={part.part} />
      <OnRule {...props} />
      <div class="options">
        {part.ways.map((way) => (
          <WayColumn key={way.way} {...props} way={way} />
        ))}
      </div>
      {part.refused.map(({ way, name, problems }) => (
        <p key={way} class="threat">
          {say.refused(name, problems.slice(0, 1).map(messageOf).join(''))}
        </p>
      ))}
      <h3>{say.turns}</h3>
      <ul>
        {turnTexts(part, terms).map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      <Splits {...props} />
    </section>
  );
}

/** The answer first: all ways, and the split that is better than each, on one rule. */
function OnRule({ page, part, terms, readyBy }: PartProps): Html {
  const best = part.best === null ? null : part.splits[part.best]!;
  const row = (key: string, name: string, worth: LeverWorth, href?: string): PlanOnRule => ({
    key,
    name,
    ...(href === undefined ? {} : { href }),
    readyAt: worth.readyAt,
    readyBy,
    chance: worth.chance,
    differs: leverChanceText(worth).differs,
  });
  const ways = [...part.ways].sort((a, b) => Number(b.isPresent) - Number(a.isPresent));
  const plans = ways.map(({ way, name, worth, isPresent }) =>
    row(way, name, isPresent ? { ...worth, compared: null } : worth, `#way-${part.part}-${way}`),
  );
  const split = best === null ? [] : [row('split', splitText(part, best), best.worth)];
  return <PlansRule clock={page.clock} now={terms.now} label={say.columns.ready} plans={[...plans, ...split]} />;
}

function WayColumn({ page, part, way, terms }: PartProps & { way: WayFigures }): Html {
  const id = `way-${part.part}-${way.way}`;
  return (
    <section class="option" aria-labelledby={id}>
      <h3 id={id}>
        {way.name}
        {way.isPresent ? <span class="quiet small"> {say.now}</span> : null}
      </h3>
      <FigureRows rows={wayRows(way, terms)} />
      {way.isPresent || way.units === 0 ? null : (
        <KeepAdopt page={page} screen="ways" name={wayKey(part.part, way.way)} heard={say.of(part.name, way.name)} />
      )}
    </section>
  );
}

function Splits({ page, part, terms }: PartProps): Html | null {
  const { splits, best, between } = part;
  if (between === null || splits.length === 0) return null;
  const { columns } = say;
  const found = best === null ? null : splits[best]!;
  return (
    <>
      <h3>{say.split}</h3>
      <p>{found === null ? say.noSplit : say.splitBest(splitText(part, found))}</p>
      {found === null ? null : (
        <KeepAdopt
          page={page}
          screen="ways"
          name={wayKey(part.part, between.other, found.units)}
          heard={say.of(part.name, splitText(part, found))}
        />
      )}
      <table class="splits">
        <thead>
          <tr>
            {[say.split, columns.ready, columns.chance, columns.paid].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {splits.map((split, i) => (
            <tr key={split.units} class={i === best ? 'best' : undefined}>
              <th scope="row">{splitText(part, split)}</th>
              {splitFigures(split, terms).map((text, k) => (
                <td key={columns.ready + String(k)}>{text}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <OwnSplit page={page} part={part} other={between.other} />
    </>
  );
}

function OwnSplit({ page, part, other }: { page: BuildPage; part: PartWays; other: string }): Html {
  const id = `own-${part.part}`;
  return (
    <WhileOpen>
      <form class="buttons" {...sheetForm(screenHref(page.build.id, 'ways'))} novalidate>
        <input type="hidden" name="edit" value={page.revision} />
        <input type="hidden" name="part" value={part.part} />
        <input type="hidden" name="way" value={other} />
        <label for={id}>{say.ownLabel(nameOf(part, other), figure(part.units - part.made))}</label>
        <input id={id} name="units" inputMode="numeric" autocomplete="off" size={6} />
        <button type="submit" name="split" value="keep">
          {say.keepSplit}
          <span class="heard">{say.of(part.name, say.own)}</span>
        </button>
      </form>
    </WhileOpen>
  );
}
