/** Money: what the piece costs, thing by thing: what is committed, what is still to come, what is kept back. */
import { type ForecastMoney, MONEY_KINDS, type MoneyKind, type MoneyLine } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { moneyTexts as say } from '../texts/paper/orders.ts';
import type { BuildPage } from '../types.ts';
import { Scroll, supplierName } from '../words/marks.tsx';
import { money, percent, workText } from '../words/wording.ts';

export function MoneyPage({ page }: { page: BuildPage }): Html {
  return (
    <BuildLayout page={page} screen="money">
      <MoneySheet page={page} />
    </BuildLayout>
  );
}

export function MoneySheet({ page }: { page: BuildPage }): Html {
  const sums = page.forecast.money;
  return (
    <Sheet page={page} screen="money" refresh={screenHref(page.build.id, 'money')}>
      <h1>{texts.screens.money}</h1>
      <p class="quiet">{say.intro}</p>
      {sums === undefined || sums.lines.length === 0 ? (
        <p>{say.none}</p>
      ) : (
        <>
          <Totals page={page} sums={sums} />
          <Beyond page={page} sums={sums} />
          <Lines page={page} sums={sums} />
        </>
      )}
      {(sums?.unpriced ?? []).length === 0 ? null : <p>{say.unpriced(sums!.unpriced.join(', '))}</p>}
      <p class="orders-links">
        <a class="day-link" href={screenHref(page.build.id, 'orders')}>
          {say.toOrders}
        </a>
      </p>
    </Sheet>
  );
}

interface SumsProps {
  page: BuildPage;
  sums: ForecastMoney;
}

function Totals({ page, sums }: SumsProps): Html {
  const { currency } = page.forecast;
  const rows: [string, number][] = [
    [say.committed, sums.committed],
    [say.toCome, sums.toCome],
    ...(sums.share === 0 ? [] : ([[say.contingency(percent(sums.share)), sums.contingency]] as [string, number][])),
    [say.total, sums.total],
  ];
  return (
    <dl class="figures">
      {rows.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd class="stamp stamp-s">{money(value, currency)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Less than that is rounding. */
const LEAST = 0.005;

/** Why the parts cost more here than on Design, where they do. */
function Beyond({ page: { forecast }, sums }: SumsProps): Html | null {
  const designed = forecast.parts.reduce((all, { cost }) => all + (cost ?? 0), 0);
  const parts = sums.lines.filter(({ kind }) => kind !== 'express' && kind !== 'hours');
  const more = parts.reduce((all, { committed, toCome }) => all + committed + toCome, -designed);
  return more < LEAST ? null : <p>{say.beyond(money(more, forecast.currency))}</p>;
}

/** A table with the sum of each kind behind its lines. */
function Lines({ page, sums }: SumsProps): Html {
  const kinds = MONEY_KINDS.map((kind) => [kind, sums.lines.filter((line) => line.kind === kind)] as const);
  return (
    <>
      <Scroll label={texts.screens.money}>
        <table class="facts money">
          <thead>
            <tr>
              <th scope="col">{say.what}</th>
              <th scope="col">{say.committed}</th>
              <th scope="col">{say.toCome}</th>
            </tr>
          </thead>
          {kinds.map(([kind, lines]) =>
            lines.length === 0 ? null : <KindLines key={kind} page={page} kind={kind} lines={lines} />,
          )}
        </table>
      </Scroll>
      {sums.lines.some(({ kind }) => kind === 'hours') ? <p class="quiet small">{say.hoursNote}</p> : null}
    </>
  );
}

interface KindProps {
  page: BuildPage;
  kind: MoneyKind;
  lines: readonly MoneyLine[];
}

function KindLines({ page, kind, lines }: KindProps): Html {
  const { currency } = page.forecast;
  const sum = (of: (line: MoneyLine) => number) =>
    money(
      lines.reduce((all, line) => all + of(line), 0),
      currency,
    );
  return (
    <tbody>
      {lines.map((line) => (
        <tr key={line.id}>
          <th scope="row">
            {line.kind === 'express' ? say.express(line.name) : line.name}
            <span class="quiet small">{moreText(page, line)}</span>
          </th>
          <td>{money(line.committed, currency)}</td>
          <td>{money(line.toCome, currency)}</td>
        </tr>
      ))}
      <tr class="subtotal">
        <th scope="row">{say.subtotal(say.kinds[kind])}</th>
        <td>{sum(({ committed }) => committed)}</td>
        <td>{sum(({ toCome }) => toCome)}</td>
      </tr>
    </tbody>
  );
}

function moreText({ build }: BuildPage, { supplier, minutes }: MoneyLine): string {
  if (minutes !== undefined) return ` ${say.hours(workText(minutes.soFar), workText(minutes.toCome))}`;
  return supplier === null ? '' : ` ${texts.countdown.from(supplierName(build, supplier))}`;
}
