/**
 * What is in the ticket of a step: its counts, and all the ways in which one of its kind is counted. The phone draws it
 * too, from the same data.
 */
// Named for what runs the sources as they are, which reads the settings of the server's sources alone.
/** @jsxRuntime automatic */
/** @jsxImportSource preact */

import type { VNode as Html } from 'preact';
import { hoursAndMinutes } from '../../../server/model/texts/length.ts';
import { phoneTexts as phone, unitsCounted } from '../../texts/count/phone.ts';
import { countTexts as say } from '../../texts/count/sheet.ts';
import type { CountStep } from '../outbox/count-wire.ts';

interface TicketBodyProps {
  readonly step: CountStep;
  readonly setName: string;
  /** What is behind the number that is done: `of 24 × fish`. */
  readonly of: string;
}

export function TicketBody({ step, setName, of }: TicketBodyProps): Html {
  return (
    <>
      {step.sets.length > 1 ? <Sets step={step} setName={setName} /> : null}
      <Figures step={step} of={of} />
      {step.kind === 'gate' ? <GateButtons step={step} /> : null}
      {step.kind === 'order' ? <OrderButtons step={step} /> : null}
      {step.kind === 'step' && step.toOrder > 0 ? <OrderForm step={step} /> : null}
      {step.kind === 'step' ? <StepButtons step={step} /> : null}
    </>
  );
}

function Figures({ step, of }: { step: CountStep; of: string }): Html {
  const done = sum(step.sets, (set) => set.counted);
  const scrapped = sum(step.sets, (set) => set.scrapped);
  return (
    <p class="ticket-figures">
      <span>
        <b class="stamp" data-show="done">
          {done}
        </b>{' '}
        {say.doneWord} <span data-show="of">{of}</span>
      </span>
      <span data-show="ready">{step.readyNow === null || step.kind !== 'step' ? '' : phone.ready(step.readyNow)}</span>
      <span data-show="scrapped">{scrapped > 0 ? `${scrapped} ${say.scrappedWord}` : ''}</span>
      {step.unchecked === undefined ? null : <span class="threat">{say.unchecked(step.unchecked)}</span>}
      <span class="quiet" data-show="waits">
        {step.waitsFor === null ? '' : phone.waitsFor(step.waitsFor)}
      </span>
    </p>
  );
}

/** What is in a machine or on its way, under the buttons of a step: a new line there moves none of them. */
function Loads(): Html {
  return <ul class="loads" data-show="loads" />;
}

function Sets({ step, setName }: { step: CountStep; setName: string }): Html {
  const first = step.sets.find((set) => set.left > 0) ?? step.sets[0]!;
  return (
    <fieldset class="sets">
      <legend class="heard">{setName}</legend>
      {step.sets.map((set) => (
        <label key={set.set ?? 0}>
          <input type="radio" name={`set-${step.id}`} value={set.set ?? ''} checked={set === first} />
          <span>
            {setName} {set.set}
            <small data-set={set.set ?? ''}>{phone.left(set.left)}</small>
          </span>
        </label>
      ))}
    </fieldset>
  );
}

function StepButtons({ step }: { step: CountStep }): Html {
  const lot = step.lotSize > 1 && step.lotSize !== 5 ? step.lotSize : null;
  return (
    <>
      <button type="button" class="one" data-tap="done" data-n="1" aria-label={say.oneSaid(step.unit, step.name)}>
        {say.one}
      </button>
      <div class="ways">
        <button type="button" data-tap="done" data-n="5" aria-label={say.fiveSaid(step.name)}>
          {say.five}
        </button>
        {lot === null ? null : (
          <button type="button" data-tap="done" data-n={lot} aria-label={say.lotSaid(lot, step.name)}>
            {say.lot(lot)} <small>{say.lotWord}</small>
          </button>
        )}
        <TypedNumber id={`typed-${step.id}`} kind="done" label={say.typed} button={say.countTyped} value={null} />
      </div>
      {step.machine !== null && step.runMinutesPerLot !== null ? (
        <TypedLoad step={step} machine={step.machineName ?? step.machine} />
      ) : null}
      {step.waitMinutes === null ? null : <Begun step={step} minutes={step.waitMinutes} />}
      <Loads />
      <p class="quiet" data-show="failing">
        {step.failing ?? ''}
      </p>
      <Scrap step={step} />
      <p class="clock">
        <span data-show="clock" />
        <button type="button" class="slight" data-clock>
          <span data-show="clock-button" />
        </button>
      </p>
    </>
  );
}

interface TypedProps {
  id: string;
  kind: string;
  label: string;
  button: string;
  value: number | null;
}

function TypedNumber({ id, kind, label, button, value }: TypedProps): Html {
  return (
    <form class="typed" data-typed={kind} novalidate>
      <label class="heard" for={id}>
        {label}
      </label>
      <NumberField id={id} value={value} placeholder={label} />
      <button type="submit">{button}</button>
    </form>
  );
}

function NumberField(props: { id: string; value: number | null; placeholder?: string; min?: number }): Html {
  return (
    <input
      id={props.id}
      name="n"
      type="number"
      inputmode="numeric"
      min={props.min ?? 1}
      max={1000000}
      step={1}
      value={props.value ?? ''}
      placeholder={props.placeholder}
    />
  );
}

function TypedLoad({ step, machine }: { step: CountStep; machine: string }): Html {
  return (
    <form class="typed load" data-typed="loaded" data-machine={step.machine ?? ''} novalidate>
      <label for={`load-${step.id}`}>{machine}</label>
      <NumberField id={`load-${step.id}`} value={step.lotSize} />
      <button type="submit">{say.load}</button>
    </form>
  );
}

/**
 * What was lost, and whether it had been counted; what was in it and is lost too; and what is good but must be done
 * again.
 */
function Scrap({ step }: { step: CountStep }): Html {
  return (
    <details class="more">
      <summary>{say.scrap}</summary>
      <form class="back" data-typed="scrapped" novalidate>
        <p class="typed">
          <label for={`scrap-${step.id}`}>{say.scrapped}</label>
          <NumberField id={`scrap-${step.id}`} value={1} />
        </p>
        <p class="typed">
          <label for={`why-${step.id}`}>{say.reason}</label>
          <select id={`why-${step.id}`} name="reason">
            {say.reasons.map((reason) => (
              <option key={reason}>{reason}</option>
            ))}
          </select>
        </p>
        {step.parts.length === 0 ? null : <LostParts step={step} />}
        <p>{say.wereCounted}</p>
        <p class="ways">
          <button type="submit" value="counted">
            {say.yesCounted}
          </button>
          <button type="submit" value="uncounted">
            {say.notCounted}
          </button>
        </p>
        <p class="typed">
          <span>{say.again}</span>
          <button type="submit" value="sent-back">
            {say.sendBack}
          </button>
        </p>
      </form>
    </details>
  );
}

/** Unfolded, it says that the parts are lost too: as many as went in, until another number is typed. */
function LostParts({ step }: { step: CountStep }): Html {
  return (
    <details class="more lost-parts">
      <summary>{say.lostParts}</summary>
      {step.parts.map((part) => (
        <p key={part.step} class="typed">
          <label for={`lost-${step.id}-${part.step}`}>{say.lostPart(part.name)}</label>
          <input
            id={`lost-${step.id}-${part.step}`}
            name={`part-${part.step}`}
            data-each={part.units}
            type="number"
            inputmode="numeric"
            min={0}
            max={1000000}
            step={1}
            value={part.units}
          />
        </p>
      ))}
    </details>
  );
}

/** What waits in the middle of its work, once it was begun. */
function Begun({ step, minutes }: { step: CountStep; minutes: number }): Html {
  return (
    <form class="typed load" data-typed="loaded" novalidate>
      <label for={`begin-${step.id}`}>{say.beginWaits(hoursAndMinutes(minutes))}</label>
      <NumberField id={`begin-${step.id}`} value={step.lotSize} />
      <button type="submit">{say.begin}</button>
    </form>
  );
}

/** The supplier's own word; there is something to say only while an order is out. */
function Promised({ step }: { step: CountStep }): Html {
  return (
    <form
      class="typed load when"
      data-typed="promised"
      hidden={!step.underWay.some(({ kind }) => kind === 'ordered')}
      novalidate
    >
      <label for={`until-${step.id}`}>{say.promise}</label>
      <input id={`until-${step.id}`} name="until" type="datetime-local" />
      <button type="submit">{say.promised}</button>
    </form>
  );
}

/** That it was ordered: from then on the delivery is reckoned from the real order. */
function OrderForm({ step }: { step: CountStep }): Html {
  return (
    <form class="typed load" data-typed="ordered" novalidate>
      <label for={`order-${step.id}`}>{orderLabel(step)}</label>
      <NumberField id={`order-${step.id}`} value={step.toOrder} />
      <button type="submit">{say.order}</button>
    </form>
  );
}

/** Why it is more than what is left, or in what it is measured. */
function orderLabel(step: CountStep): string {
  if (step.packs !== null) return say.toOrderPacks(step.packs);
  return step.measure === undefined ? say.toOrder : say.toOrderPacks(unitsCounted(step.toOrder, step));
}

function OrderButtons({ step }: { step: CountStep }): Html {
  const expected = sum(step.underWay, (load) => load.units);
  const left = sum(step.sets, (set) => set.left);
  return (
    <>
      {step.toOrder > 0 ? <OrderForm step={step} /> : null}
      <form class="typed load" data-typed="received" novalidate>
        <label for={`got-${step.id}`}>{say.received}</label>
        <NumberField id={`got-${step.id}`} value={(expected || left) > 0 ? expected || left : null} />
        <button type="submit">{say.receive}</button>
      </form>
      <Promised step={step} />
      <Loads />
      <p class="quiet" data-show="failing">
        {step.failing ?? ''}
      </p>
      <Scrap step={step} />
    </>
  );
}

function GateButtons({ step }: { step: CountStep }): Html {
  return (
    <>
      <button type="button" class="one" data-tap="passed" aria-label={`${say.pass}: ${step.name}`}>
        {say.pass}
      </button>
      <details class="more">
        <summary>{say.fail}</summary>
        <form class="back" data-typed="failed" novalidate>
          {step.sendsBack.length === 0 ? null : <p>{say.goesBack}</p>}
          {step.sendsBack.map((back) => (
            <p key={back.step} class="typed">
              <label for={`back-${step.id}-${back.step}`}>{say.goesBackOf(back.name)}</label>
              <input
                id={`back-${step.id}-${back.step}`}
                name={back.step}
                type="number"
                inputmode="numeric"
                min={0}
                max={1000000}
                step={1}
                value={back.units}
              />
            </p>
          ))}
          <p class="typed">
            <label for={`why-${step.id}`}>{say.reason}</label>
            <input id={`why-${step.id}`} name="reason" maxlength={200} />
          </p>
          <button type="submit">{say.failIt}</button>
        </form>
      </details>
    </>
  );
}

function sum<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((total, one) => total + of(one), 0);
}
