/** Hands: people, machines and suppliers, their hours in one line each, and the days that differ. */

import {
  ASSUMED_CUT_OFF,
  type DayException,
  type Forecast,
  type Machine,
  type Person,
  type Supplier,
} from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { ThingList } from '../parts/step-lists.tsx';
import { LoadPicture } from '../pictures/load-picture.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage, OpenForm } from '../types.ts';
import { uncheckedText } from '../words/design-words.ts';
import { stepName } from '../words/marks.tsx';
import { hoursInWords } from '../words/weekly-hours.ts';
import { figure, money, weekdayWords } from '../words/wording.ts';

const say = texts.hands;

interface HandsProps {
  page: BuildPage;
  open: OpenForm | null;
}

export function HandsPage(props: HandsProps): Html {
  return (
    <BuildLayout page={props.page} screen="hands" modules={['week.js']}>
      <HandsSheet {...props} />
    </BuildLayout>
  );
}

export function HandsSheet({ page, open }: HandsProps): Html {
  const href = screenHref(page.build.id, 'hands');
  const { people = [], machines = [], suppliers = [] } = page.build;
  const shared = { page, open, href };
  return (
    <Sheet page={page} screen="hands" refresh={open === null ? href : null}>
      <h1 class="heard">{texts.screens.hands}</h1>
      <ThingList
        {...shared}
        list="people"
        title={say.people}
        none={say.noPeople}
        things={people.map((it) => [it.id, it.name, <PersonLine key="line" page={page} person={it} />])}
      />
      <ThingList
        {...shared}
        list="machines"
        title={say.machines}
        none={say.noMachines}
        things={machines.map((it) => [it.id, it.name, <MachineLine key="line" machine={it} />])}
      />
      <ThingList
        {...shared}
        list="suppliers"
        title={say.suppliers}
        none={say.noSuppliers}
        things={suppliers.map((it) => [
          it.id,
          it.name,
          <SupplierLine key="line" supplier={it} forecast={page.forecast} />,
        ])}
      />
      <LoadPicture page={page} />
    </Sheet>
  );
}

function PersonLine({ page, person }: { page: BuildPage; person: Person }): Html {
  const { forecast } = page;
  const can = person.can
    ?.map((id) => withUnchecked(forecast, stepName(forecast, id), partOfStep(forecast, id)))
    .join(', ');
  return (
    <>
      <span class="hours">{hoursInWords(person.hours)}</span>
      <br />
      <span class="quiet">{can === undefined ? say.everything : say.can(can)}</span>
      <Exceptions days={person.exceptions} />
    </>
  );
}

function MachineLine({ machine }: { machine: Machine }): Html {
  const parts = [
    (machine.count ?? 1) > 1 ? say.alike(machine.count!) : null,
    machine.unattended === true ? say.unattended : say.attended,
    machine.overnight === true ? say.overnight : say.notOvernight,
  ];
  return (
    <>
      <span class="hours">{hoursInWords(machine.hours ?? say.always)}</span>
      <br />
      <span class="quiet">{parts.filter((it) => it !== null).join(', ')}</span>
      <Exceptions days={machine.exceptions} />
    </>
  );
}

function partOfStep({ steps }: Forecast, step: string): string | null {
  return byId(steps, step)?.part ?? null;
}

function withUnchecked(forecast: Forecast, name: string, part: string | null): string {
  const unchecked = uncheckedText(forecast, part);
  return unchecked === null ? name : `${name} (${unchecked})`;
}

function SupplierLine({ supplier, forecast }: { supplier: Supplier; forecast: Forecast }): Html {
  const { express } = supplier;
  const cost = express?.extraCost === undefined ? '' : say.extra(money(express.extraCost, forecast.currency));
  const unchecked = forecast.parts.filter((part) => part.supplier === supplier.id && part.unchecked !== undefined);
  const parts = [
    say.lead(leadWords(supplier.lead)),
    supplier.workingDays === undefined ? null : say.works(hoursInWords(supplier.workingDays)),
    supplier.cutOff === undefined ? say.cutOffAssumed(ASSUMED_CUT_OFF) : say.cutOff(supplier.cutOff),
    supplier.deliveryDays === undefined
      ? null
      : `${say.delivers(hoursInWords(supplier.deliveryDays))} ${supplier.deliveryTime ?? ''}`.trim(),
    express === undefined ? null : say.express(leadWords(express.lead), cost),
    ...unchecked.map(({ id, name }) => withUnchecked(forecast, name, id)),
    supplier.holidays === undefined ? null : say.holidays(supplier.holidays.map(weekdayWords).join(', ')),
  ];
  return <>{parts.filter((it) => it !== null).join('; ')}</>;
}

function leadWords(lead: Supplier['lead']): string {
  return typeof lead === 'number'
    ? figure(lead)
    : say.leadRange(figure(lead.low), figure(lead.high), figure(lead.likely));
}

function Exceptions({ days }: { days: readonly DayException[] | undefined }): Html | null {
  if (days === undefined || days.length === 0) return null;
  return (
    <ul class="exceptions">
      {days.map((day) => (
        <li key={day.date}>
          {say.exception(weekdayWords(day.date), hoursInWords(day.hours))}
          {day.note === undefined ? null : <span class="quiet"> {day.note}</span>}
        </li>
      ))}
    </ul>
  );
}
