/** After the show: estimated against real on one page, what to keep for the next build, what earlier builds offer. */
import type { OwnFigure, OwnOffer, Problem } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { afterTexts as say } from '../texts/paper/after.ts';
import { closingTexts as closing } from '../texts/paper/closing.ts';
import type { BuildPage } from '../types.ts';
import { Scroll } from '../words/marks.tsx';
import { figure, percent, twoFigures } from '../words/wording.ts';
import { AFTER_KINDS, type AfterLine, afterLines } from './after-facts.ts';

export interface AfterProps {
  page: BuildPage;
  /** What could be kept of this build. */
  measured: readonly Omit<OwnFigure, 'build' | 'buildName'>[];
  /** Figures of this build on the shelf. */
  kept: number;
  offers: readonly OwnOffer[];
  problems: readonly Problem[];
}

export function AfterPage(props: AfterProps): Html {
  return (
    <BuildLayout page={props.page} screen="after">
      <AfterSheet {...props} />
    </BuildLayout>
  );
}

export function AfterSheet(props: AfterProps): Html {
  const { page, problems } = props;
  const href = screenHref(page.build.id, 'after');
  const lines = afterLines(page);
  return (
    <Sheet page={page} screen="after" refresh={href}>
      <h1>{texts.screens.after}</h1>
      <p class="quiet">{say.intro}</p>
      <SheetProblems problems={problems} />
      {lines.length === 0 ? <p>{say.none}</p> : <Compared lines={lines} />}
      {lines.length === 0 ? null : (
        <p>
          <a class="day-link" href={`${href}.csv`} download={`${page.build.id}-after.csv`}>
            {say.csv}
          </a>
        </p>
      )}
      <Shelf {...props} href={href} />
      <Offers {...props} href={href} />
      <Closing page={page} />
    </Sheet>
  );
}

/** Closing the build when all is done, its file, and the way to remove it; or reopening it. */
function Closing({ page }: { page: BuildPage }): Html {
  const { build, forecast, closed } = page;
  const isOver = forecast.event <= forecast.now;
  return (
    <section aria-labelledby="closing-title">
      <h2 id="closing-title">{closing.heading}</h2>
      <p>{closing.note}</p>
      {closed === undefined && !isOver ? <p class="quiet">{closing.notYet}</p> : null}
      {closed === undefined && isOver ? (
        <form class="buttons" method="post" action={`/b/${build.id}/close`}>
          <button type="submit">{closing.close(build.name)}</button>
        </form>
      ) : null}
      {closed === undefined ? null : (
        <>
          <form class="buttons" method="post" action={`/b/${build.id}/reopen`}>
            <button type="submit">{closing.reopen(build.name)}</button>
          </form>
          <p>{closing.after}</p>
          <ul class="plain">
            <li>
              <a href={`/b/${build.id}/file.json`} download={`${build.id}.json`}>
                {closing.file}
              </a>
            </li>
            <li>
              <a href={`${screenHref(build.id, 'contents')}#files-title`}>{texts.contents.remove}</a>
            </li>
          </ul>
        </>
      )}
    </section>
  );
}

function Compared({ lines }: { lines: readonly AfterLine[] }): Html {
  return (
    <>
      <Scroll label={texts.screens.after}>
        <table class="money">
          <thead>
            <tr>
              {say.columns.map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          {AFTER_KINDS.map((kind) => (
            <Kind key={kind} kind={kind} lines={lines.filter((line) => line.kind === kind)} />
          ))}
        </table>
      </Scroll>
      {lines.some(({ kind }) => kind === 'lead') ? <p class="quiet small">{say.leadNote}</p> : null}
      {lines.some(isOfLoads) ? <p class="quiet small">{say.loadNote}</p> : null}
    </>
  );
}

function isOfLoads({ kind, counted }: AfterLine): boolean {
  return (kind === 'run' || kind === 'wait') && counted > 1;
}

function Kind({ kind, lines }: { kind: AfterLine['kind']; lines: readonly AfterLine[] }): Html | null {
  if (lines.length === 0) return null;
  return (
    <tbody>
      <tr class="subtotal">
        <th scope="rowgroup" colspan={5}>
          {say.kinds[kind]}
        </th>
      </tr>
      {lines.map((line) => (
        <tr key={line.id}>
          <th scope="row">{line.name}</th>
          <td>{line.estimated === null ? say.notSaid : amountText(line, line.estimated)}</td>
          <td>{amountText(line, line.real)}</td>
          <td>{timesText(line)}</td>
          <td>{say.from[kind](figure(line.counted, 0))}</td>
        </tr>
      ))}
    </tbody>
  );
}

function amountText({ kind }: AfterLine, amount: number): string {
  return kind === 'gate' || kind === 'scrap' ? percent(amount) : twoFigures(amount);
}

function timesText({ estimated, real }: AfterLine): string {
  return estimated === null || estimated === 0 ? '' : twoFigures(real / estimated);
}

function Shelf({ measured, kept, href }: AfterProps & { href: string }): Html {
  const words = say.shelf;
  return (
    <section class="show-part" aria-labelledby="shelf-title">
      <div class="heading">
        <h2 id="shelf-title">{words.heading}</h2>
      </div>
      <p class="quiet">
        {words.note} {words.fewest}
      </p>
      {kept === 0 ? null : <p>{words.kept(kept)}</p>}
      {measured.length === 0 ? (
        <p>{words.nothing}</p>
      ) : (
        <form class="buttons" {...sheetForm(href)}>
          <button type="submit" name="do" value="keep">
            {words.keep(measured.length)}
          </button>
        </form>
      )}
    </section>
  );
}

function Offers({ page, offers, href }: AfterProps & { href: string }): Html {
  const words = say.offers;
  return (
    <section class="show-part" aria-labelledby="offers-title">
      <div class="heading">
        <h2 id="offers-title">{words.heading}</h2>
      </div>
      <p class="quiet">{offers.length === 0 ? words.none : words.note}</p>
      <ul class="orders">
        {offers.map((offer) => (
          <Offer key={`${offer.list} ${offer.key}`} offer={offer} href={href} revision={page.revision} />
        ))}
      </ul>
    </section>
  );
}

function Offer({ offer, href, revision }: { offer: OwnOffer; href: string; revision: number }): Html {
  const words = say.offers;
  const { figure: of, list, key, present } = offer;
  const facts = [
    offerText(of, of.value),
    words.measured(of.buildName, say.from[FROM[of.kind]](figure(of.counted))),
    ...(present === null ? [] : [words.present(offerText(of, present))]),
  ];
  return (
    <li>
      <p>
        <strong>{of.name}</strong> {facts.join(', ')}
      </p>
      <form class="buttons" {...sheetForm(href)}>
        <input type="hidden" name="list" value={list} />
        <input type="hidden" name="key" value={key} />
        <input type="hidden" name="edit" value={revision} />
        <button type="submit" name="do" value="take">
          {words.take}
          <span class="heard"> {of.name}</span>
        </button>
      </form>
    </li>
  );
}

const FROM = { pace: 'hands', yield: 'scrap', lead: 'lead' } as const;

function offerText({ kind }: OwnFigure, value: number): string {
  const words = say.offers;
  if (kind === 'yield') return words.yield(percent(value));
  return kind === 'pace' ? words.pace(twoFigures(value)) : words.lead(figure(value));
}
