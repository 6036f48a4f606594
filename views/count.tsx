/** Count: the phone's page. The steps that can be worked on now come first; one ticket is open, its first button is huge. */
import type { CountState, CountStep } from './client/count-wire.ts';
import { BookHead, Document, Sheet } from './layout.tsx';
import type { Html } from './render.ts';
import { countTexts as say } from './texts/count.ts';
import { frameTexts } from './texts/frame.ts';
import type { BuildPage } from './types.ts';

interface CountProps {
  page: BuildPage;
  state: CountState;
  /** A helper sees this page and no other. */
  helper: boolean;
}

/** The whole page. Its script is a module; the state it starts from lies on the list of tickets. */
export function CountPage({ page, state, helper }: CountProps): Html {
  return (
    <Document
      title={`${say.title} · ${page.build.name}`}
      light={page.light}
      bare
      styles={['count.css']}
      modules={['count.js']}
      manifest={`/b/${page.build.id}/count.webmanifest`}
    >
      {helper ? (
        <HelperHead name={page.build.name} who={state.who} />
      ) : (
        <BookHead build={page.build.id} name={page.build.name} screen="count" light={page.light} />
      )}
      <Sheet page={page} screen="count" refresh={null}>
        <h1 class="heard">{say.title}</h1>
        <noscript>
          <p class="threat">{say.noScript}</p>
        </noscript>
        <Keeping />
        <Tickets state={state} />
        <LastTap />
        <Doubts />
        <Tools build={helper ? null : page.build.id} />
        <Mine />
      </Sheet>
    </Document>
  );
}

/** The tickets alone, for a page whose plan has changed under it. */
export function Tickets({ state }: { state: CountState }): Html {
  const groups = grouped(state.steps);
  const first = groups.now[0] ?? groups.later[0];
  const list = (title: string, steps: readonly CountStep[]): Html | null =>
    steps.length === 0 ? null : (
      <section class="tickets">
        <h2>{title}</h2>
        {steps.map((step) => (
          <Ticket key={step.id} step={step} setName={state.setName} open={step === first} />
        ))}
      </section>
    );
  return (
    <div id="tickets" data-state={JSON.stringify(state)}>
      {state.steps.length === 0 ? <p>{say.nothing}</p> : null}
      {list(say.now, groups.now)}
      {list(say.later, groups.later)}
      {list(say.done, groups.done)}
    </div>
  );
}

function HelperHead({ name, who }: { name: string; who: string }): Html {
  return (
    <header class="book">
      <p class="book-name">
        <span class="quiet">{frameTexts.product} /</span>
        <strong>{name}</strong>
      </p>
      <p class="quiet">{say.people(who)}</p>
    </header>
  );
}

function grouped(steps: readonly CountStep[]): Record<'now' | 'later' | 'done', CountStep[]> {
  const groups = { now: [] as CountStep[], later: [] as CountStep[], done: [] as CountStep[] };
  const underWay: CountStep[] = [];
  for (const step of steps) {
    const left = step.sets.some((set) => set.left > 0);
    const workable = step.readyNow === null ? step.waitsFor === null : step.readyNow > 0;
    if (!left) groups.done.push(step);
    else if (workable && step.kind !== 'order') groups.now.push(step);
    else if (workable || step.underWay.length > 0) underWay.push(step);
    else groups.later.push(step);
  }
  // What hands can do comes first; what only has to arrive or to run out follows.
  return { ...groups, now: [...groups.now, ...underWay] };
}

function Keeping(): Html {
  return (
    <section class="keeping" aria-label={say.keptLabel}>
      <p id="kept" role="status">
        {say.keptFirst}
      </p>
      <p id="place" class="quiet small" />
    </section>
  );
}

/** What was refused and what is asked, until it is answered; under the tickets, so that none moves when one comes. */
function Doubts(): Html {
  return (
    <section class="doubts" aria-label={say.doubtsLabel}>
      <ul id="doubts" />
    </section>
  );
}

interface TicketProps {
  step: CountStep;
  setName: string;
  open: boolean;
}

/** One step. Opening another closes this one; the pedal counts on the open one. */
function Ticket({ step, setName, open }: TicketProps): Html {
  const left = sum(step.sets, (set) => set.left);
  return (
    <details class="ticket" name="ticket" open={open} data-step={step.id}>
      <summary>
        <span class="ticket-name">{step.name}</span>
        <span class="ticket-left" data-show="left">
          {say.left(left)}
        </span>
      </summary>
      <div class="ticket-body">
        {step.sets.length > 1 ? <Sets step={step} setName={setName} /> : null}
        <Figures step={step} />
        {step.kind === 'order' ? <Loads /> : null}
        {step.kind === 'gate' ? <GateButtons step={step} /> : null}
        {step.kind === 'order' ? <OrderButtons step={step} /> : null}
        {step.kind === 'step' ? <StepButtons step={step} /> : null}
      </div>
    </details>
  );
}

function Figures({ step }: { step: CountStep }): Html {
  const done = sum(step.sets, (set) => set.done);
  const scrapped = sum(step.sets, (set) => set.scrapped);
  return (
    <p class="ticket-figures">
      <span>
        <b class="stamp" data-show="done">
          {done}
        </b>{' '}
        {say.doneWord}{' '}
        <span data-show="of">
          {say.of(
            sum(step.sets, (set) => set.total),
            step.unit,
          )}
        </span>
      </span>
      <span data-show="ready">{step.readyNow === null || step.kind !== 'step' ? '' : say.ready(step.readyNow)}</span>
      <span data-show="scrapped">{scrapped > 0 ? `${scrapped} ${say.scrappedWord}` : ''}</span>
      <span class="quiet" data-show="waits">
        {step.waitsFor === null ? '' : say.waitsFor(step.waitsFor)}
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
            <small data-set={set.set ?? ''}>{say.left(set.left)}</small>
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
      <Loads />
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

function Scrap({ step }: { step: CountStep }): Html {
  return (
    <details class="more">
      <summary>{say.scrap}</summary>
      <form class="typed" data-typed="scrapped" novalidate>
        <label for={`scrap-${step.id}`}>{say.scrapped}</label>
        <NumberField id={`scrap-${step.id}`} value={1} />
        <label for={`why-${step.id}`}>{say.reason}</label>
        <select id={`why-${step.id}`} name="reason">
          {say.reasons.map((reason) => (
            <option key={reason}>{reason}</option>
          ))}
        </select>
        <button type="submit">{say.scrapIt}</button>
      </form>
    </details>
  );
}

function OrderButtons({ step }: { step: CountStep }): Html {
  const expected = sum(step.underWay, (load) => load.units);
  const left = sum(step.sets, (set) => set.left);
  return (
    <form class="typed" data-typed="received" novalidate>
      <label for={`got-${step.id}`}>{say.received}</label>
      <NumberField id={`got-${step.id}`} value={(expected || left) > 0 ? expected || left : null} />
      <button type="submit" class="broad">
        {say.receive}
      </button>
    </form>
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

/** What the last tap was, and the way back from it, where the thumb is. */
function LastTap(): Html {
  return (
    <section class="last" aria-label={say.last}>
      <p id="last" aria-live="polite" />
      <a id="to-doubts" href="#doubts" class="threat" hidden>
        {say.doubtsLabel}
      </a>
      <button type="button" id="undo-last" hidden>
        {say.undo}
      </button>
    </section>
  );
}

/** What helps with full hands; and, for the maker, the way to let a helper in. */
function Tools({ build }: { build: string | null }): Html {
  const tool = (id: string, label: string, checked = false): Html => (
    <label class="tool">
      <input type="checkbox" id={id} checked={checked} /> {label}
    </label>
  );
  return (
    <section class="tools">
      <h2>{say.tools}</h2>
      {tool('pedal', say.pedal)}
      {tool('sound', say.sound)}
      {tool('awake', say.awake)}
      <p id="tool-said" class="quiet small" role="status" />
      {build === null ? null : (
        <a class="tool" href={`/b/${build}/helpers`}>
          {say.letIn}
        </a>
      )}
    </section>
  );
}

function Mine(): Html {
  return (
    <section class="mine">
      <h2>{say.mine}</h2>
      <ol id="mine" />
      <button type="button" id="older" hidden>
        {say.older}
      </button>
    </section>
  );
}

function sum<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((total, one) => total + of(one), 0);
}
