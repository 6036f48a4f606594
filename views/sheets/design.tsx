/** Design: the parameters with their formulas, and the parts they multiply, with counts and costs. */

import type { ForecastLimit, ForecastParameter, ForecastPart } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { ChangeLink, EditForm } from '../forms/form.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { formulasHref, screenHref } from '../links.ts';
import { UncheckedMark } from '../parts/unchecked.tsx';
import { type Html, ListInTurns } from '../render.ts';
import { formulaTexts } from '../texts/begin/formulas.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, EditList, OpenForm } from '../types.ts';
import { boundsText, measure } from '../words/design-words.ts';
import { OriginMark, stepName } from '../words/marks.tsx';
import { measuredText } from '../words/supply-words.ts';
import { figure, money, percent, soonText } from '../words/wording.ts';

const say = texts.design;
const sayDesign = texts.ofDesign;

interface DesignProps {
  page: BuildPage;
  open: OpenForm | null;
}

export function DesignPage(props: DesignProps): Html {
  return (
    <BuildLayout page={props.page} screen="design">
      <DesignSheet {...props} />
    </BuildLayout>
  );
}

export function DesignSheet({ page, open }: DesignProps): Html {
  const href = screenHref(page.build.id, 'design');
  return (
    <Sheet page={page} screen="design" refresh={open === null ? href : null}>
      <h1 class="heard">{texts.screens.design}</h1>
      <p class="design-links">
        <a href={screenHref(page.build.id, 'lines')}>{texts.lines.link}</a>
        {(page.build.parts ?? []).some(({ ways = [] }) => ways.length > 1) ? (
          <a href={screenHref(page.build.id, 'ways')}>{texts.ways.link}</a>
        ) : null}
        <a href={formulasHref(page.build.id)}>{formulaTexts.link}</a>
      </p>
      <Heading list="parameters" title={say.parameters} href={href} />
      <p class="quiet">{say.parametersNote}</p>
      <NewForm page={page} open={open} list="parameters" href={href} />
      <Parameters page={page} open={open} href={href} />
      <Limits page={page} open={open} href={href} />
      <Heading list="parts" title={say.parts} href={href} />
      <p class="quiet">{say.partsNote(percent(page.forecast.confidence))}</p>
      <NewForm page={page} open={open} list="parts" href={href} />
      <Parts page={page} open={open} href={href} />
    </Sheet>
  );
}

function Heading({ list, title, href }: { list: EditList; title: string; href: string }): Html {
  return (
    <div class="heading">
      <h2>{title}</h2>
      <ChangeLink href={href} list={list} id={null} of="" />
    </div>
  );
}

interface PlaceProps extends DesignProps {
  href: string;
}

function NewForm({ page, open, list, href }: PlaceProps & { list: EditList }): Html | null {
  if (open?.list !== list || open.key !== null) return null;
  return <EditForm build={page.build} form={open} href={href} />;
}

function Parameters({ page, open, href }: PlaceProps): Html {
  const computed = new Map(page.forecast.parameters.map((it) => [it.name, it]));
  return (
    <ul class="parameters">
      {(page.build.parameters ?? []).map(({ name }) => (
        <li key={name} id={`parameters-${name}`}>
          {open?.list === 'parameters' && open.key === name ? (
            <EditForm build={page.build} form={open} href={href} />
          ) : (
            <ParameterRow page={page} name={name} computed={computed.get(name)} href={href} />
          )}
        </li>
      ))}
    </ul>
  );
}

interface ParameterRowProps {
  page: BuildPage;
  name: string;
  computed: ForecastParameter | undefined;
  href: string;
}

function ParameterRow({ page, name, computed, href }: ParameterRowProps): Html {
  const value = computed?.value ?? null;
  return (
    <div class="parameter">
      <span class="parameter-name">{name}</span>
      <span class="parameter-value">
        {value === null ? (
          <span class="threat">{say.notComputed}</span>
        ) : (
          <>
            <span class="stamp stamp-s">{figure(value, 4)}</span> {computed?.unit}
          </>
        )}
      </span>
      <span class="parameter-from">
        {computed?.formula == null ? null : <code>= {computed.formula}</code>}
        {computed?.low == null || computed.high == null || computed.low === computed.high ? null : (
          <span>{say.range(figure(computed.low), figure(computed.high))} </span>
        )}
        {computed?.formula == null ? <OriginMark origin={computed?.origin ?? null} /> : null}
        <span class="quiet small">{usesWords(page, name)}</span>
        <UncertainWords page={page} name={name} />
      </span>
      <ChangeLink href={href} list="parameters" id={name} of={name} />
    </div>
  );
}

function usesWords(page: BuildPage, name: string): string {
  const use = page.forecast.uses.find((it) => it.parameter === name);
  if (use === undefined) return '';
  const parts = use.parts.map((id) => byId(page.forecast.parts, id)?.name ?? id);
  const names = [...parts, ...use.steps.map((id) => stepName(page.forecast, id))];
  return names.length === 0 ? '' : say.uses(names.join(', '));
}

function UncertainWords({ page, name }: { page: BuildPage; name: string }): Html | null {
  const { forecast, clock } = page;
  const known = forecast.uncertain?.find(({ parameter }) => parameter === name);
  if (known === undefined) return null;
  const partName = (id: string) => nameOfPart(page, id);
  const orderName = (step: string) => forecast.orders.find((order) => order.step === step)?.name ?? step;
  const words = [
    ...known.parts.map(({ part, low, likely, high }) =>
      sayDesign.countsFrom(partName(part), countText(low), figure(likely), countText(high)),
    ),
    ...known.orders.map(({ step, more, cost }) =>
      sayDesign.moreForHigh(figure(more), orderName(step), cost === null ? null : money(cost, forecast.currency)),
    ),
    known.settleBy === null
      ? sayDesign.nothingWaits
      : sayDesign.settleBy(soonText(clock, known.settleBy, forecast.now)),
  ];
  return <span class="small uncertain">{words.join('; ')}</span>;
}

function countText(count: number | null): string {
  return count === null ? texts.unknown : figure(count);
}

function Limits({ page, open, href }: PlaceProps): Html {
  const limits = page.build.limits ?? [];
  const computed = new Map((page.forecast.limits ?? []).map((it) => [it.id, it]));
  return (
    <>
      <Heading list="limits" title={sayDesign.limits} href={href} />
      <p class="quiet">{sayDesign.limitsNote}</p>
      <NewForm page={page} open={open} list="limits" href={href} />
      {limits.length === 0 ? null : (
        <ul class="parameters limits">
          {limits.map(({ id, name }) => (
            <li key={id} id={`limits-${id}`}>
              {open?.list === 'limits' && open.key === id ? (
                <EditForm build={page.build} form={open} href={href} />
              ) : (
                <LimitRow page={page} id={id} name={name} computed={computed.get(id)} href={href} />
              )}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

interface LimitRowProps {
  page: BuildPage;
  id: string;
  name: string;
  computed: ForecastLimit | undefined;
  href: string;
}

function LimitRow({ page, id, name, computed, href }: LimitRowProps): Html {
  return (
    <div class="parameter">
      <span class="parameter-name">{name}</span>
      <span class="parameter-value">
        {computed === undefined || computed.value === null ? (
          <span class="threat">{sayDesign.limitUnknown}</span>
        ) : (
          <>
            <span class="stamp stamp-s">{figure(computed.value, 4)}</span> {computed.unit}
          </>
        )}
      </span>
      <span class="parameter-from">{computed === undefined ? null : <LimitWords page={page} limit={computed} />}</span>
      <ChangeLink href={href} list="limits" id={id} of={name} />
    </div>
  );
}

function LimitWords({ page, limit }: { page: BuildPage; limit: ForecastLimit }): Html {
  const { state, low, high, unit, parts } = limit;
  const isWrong = state === 'broken' || state === 'may-break';
  return (
    <>
      <span>{boundsText(limit)}</span>
      <span class={isWrong ? 'threat' : undefined}>{limitStates()[state]}</span>
      {low === null || high === null || low === high ? null : (
        <span>{sayDesign.mayBe(figure(low, 4), measure(high, unit))}</span>
      )}
      {parts.length === 0 ? null : (
        <span class="quiet small">{sayDesign.concerns(parts.map((part) => nameOfPart(page, part)))}</span>
      )}
    </>
  );
}

const limitStates = () =>
  ({
    kept: sayDesign.kept,
    broken: sayDesign.broken,
    'may-break': sayDesign.mayBreak,
    unknown: '',
  }) as const;

function Parts({ page, open, href }: PlaceProps): Html {
  const computed = new Map(page.forecast.parts.map((it) => [it.id, it]));
  const total = page.forecast.parts.reduce((sum, part) => sum + (part.cost ?? 0), 0);
  return (
    <>
      <ul class="parts">
        <ListInTurns>
          {(page.build.parts ?? []).map((part) => (
            <li key={part.id} id={`parts-${part.id}`}>
              {open?.list === 'parts' && open.key === part.id ? (
                <EditForm build={page.build} form={open} href={href} />
              ) : (
                <PartCard page={page} name={part.name} id={part.id} part={computed.get(part.id)} href={href} />
              )}
            </li>
          ))}
        </ListInTurns>
      </ul>
      {total === 0 ? null : (
        <p class="total">
          {say.total} <span class="stamp stamp-s">{money(total, '')}</span> {page.forecast.currency}
        </p>
      )}
    </>
  );
}

interface PartProps {
  page: BuildPage;
  id: string;
  name: string;
  part: ForecastPart | undefined;
  href: string;
}

function PartCard({ page, id, name, part, href }: PartProps): Html {
  return (
    <article class="parameter part" aria-labelledby={`part-${id}`}>
      <h3 class="parameter-name" id={`part-${id}`}>
        {name}
      </h3>
      <p class="parameter-value">{part === undefined ? null : <Missing part={part} />}</p>
      <div class="part-is">
        <UncheckedMark page={page} part={id} />
        {part === undefined ? (
          <p class="threat">{say.notComputed}</p>
        ) : (
          <>
            <dl class="part-figures">
              {partFigures(page, part).map(([label, value]) => (
                <div key={label}>
                  <dt>{label}</dt>
                  <dd>{value}</dd>
                </div>
              ))}
            </dl>
            <p class="quiet small">{partWords(page, part).join(', ')}</p>
          </>
        )}
      </div>
      <ChangeLink href={href} list="parts" id={id} of={name} />
    </article>
  );
}

/** How many more must come or be made, spares included, before all are there. */
function Missing({ part }: { part: ForecastPart }): Html {
  const { missing = 0, measure = { unit: null, pack: 1 } } = part;
  if (missing === 0) return <span class="quiet">{say.allThere}</span>;
  return (
    <>
      <span class="stamp stamp-s">{measuredText(missing, measure)}</span> {say.missing}
    </>
  );
}

function partWords(page: BuildPage, part: ForecastPart): string[] {
  const supplier = page.build.suppliers?.find((it) => it.id === part.supplier)?.name;
  const words = [
    texts.edit.choice.source[part.source],
    supplier === undefined ? null : texts.countdown.from(supplier),
    ...part.usedIn.map((it) => say.perParent(figure(it.count), nameOfPart(page, it.part))),
    part.yield < 1 ? say.yields(percent(part.yield)) : null,
    ...yieldWords(part),
    (part.ownNeed ?? 0) > 0 && part.need > part.ownNeed!
      ? say.ownAndIn(figure(part.ownNeed!), figure(part.need - part.ownNeed!))
      : null,
    part.onHand > 0 ? say.onHand(figure(part.onHand)) : null,
    part.packs === null || part.packs === part.toBuy ? null : say.packs(part.packs),
    part.revision === null ? null : say.revision(part.revision),
  ];
  return words.filter((it) => it !== null);
}

function yieldWords({ yield: share, yieldLearnt }: ForecastPart): string[] {
  if (yieldLearnt === undefined) return [];
  const { given, tried, scrapped } = yieldLearnt;
  return [
    say.yieldSeen(figure(scrapped), figure(tried), percent(tried === 0 ? 0 : scrapped / tried)),
    say.yieldLearnt(percent(1 - share), percent(1 - given)),
  ];
}

function nameOfPart(page: BuildPage, id: string): string {
  return byId(page.forecast.parts, id)?.name ?? id;
}

function partFigures(page: BuildPage, part: ForecastPart): [string, string][] {
  const { need, spares, toMake, toBuy, measure = { unit: null, pack: 1 } } = part;
  const amount = (n: number) => measuredText(n, measure);
  const isZero = (text: string) => text === amount(0);
  const figures: [string, string][] = [
    [say.need, amount(need)],
    [say.spares, amount(spares)],
    toBuy === null ? [say.start, amount(toMake)] : [say.buy, amount(toBuy)],
    [say.good, amount(part.good)],
    [say.scrapped, amount(part.scrapped)],
  ];
  const said = figures.filter(([label, text]) => label === say.need || label === say.start || !isZero(text));
  return part.cost === null ? said : [...said, [say.cost, money(part.cost, page.forecast.currency)]];
}
