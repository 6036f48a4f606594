/** The ticket of one step on the phone: a line, and what is in it where that is not left to the phone. */
import type { Hazard } from '../../server/model/index.ts';
import type { CountStep } from '../client/outbox/count-wire.ts';
import { TicketBody } from '../client/tickets/ticket-body.tsx';
import { CautionLines } from '../parts/cautions.tsx';
import type { Html } from '../render.ts';
import { phoneTexts as phone, unitsCounted } from '../texts/count/phone.ts';
import { countTexts as say } from '../texts/count/sheet.ts';
import { counted } from '../words/wording.ts';

interface TicketProps {
  readonly step: CountStep;
  readonly setName: string;
  readonly open: boolean;
  /** The phone draws what is in it once it is opened, from the state on the page; cautions are there at once. */
  readonly later: boolean;
  readonly hazards: readonly Hazard[];
}

/** One step. Opening another closes this one; the pedal counts on the open one. */
export function Ticket({ step, setName, open, later, hazards }: TicketProps): Html {
  const left = sum(step.sets, (set) => set.left);
  const of = ofTotal(
    sum(step.sets, (set) => set.total),
    step,
  );
  return (
    <details class="ticket" name="ticket" open={open} data-step={step.id}>
      <summary>
        <span class="ticket-name">{step.name}</span>
        <span class="ticket-left" data-show="left">
          {phone.left(left)}
        </span>
      </summary>
      <div class="ticket-body" data-of={later ? of : undefined}>
        {later ? null : <TicketBody step={step} setName={setName} of={of} />}
        <CautionLines hazards={hazards} />
      </div>
    </details>
  );
}

/** Behind what is done: `of 24 × fish`, `of 5 jobs`, `of 2 packs of 2.5 L oil`. */
function ofTotal(total: number, step: CountStep): string {
  return say.of(step.measure === undefined ? counted(total, step.unit) : unitsCounted(total, step));
}

function sum<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((total, one) => total + of(one), 0);
}
