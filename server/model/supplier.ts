/** Suppliers. */
import Type, { type Static } from 'typebox';
import { CalendarDate, Id, Name, Note, Range, TimeOfDay } from './common.ts';
import { described } from './texts/described.ts';

const say = described.supplier;

export const LeadTime = Type.Union([Type.Integer({ minimum: 0, maximum: 400 }), Range], {
  description: say.leadTime,
});

const DaysOfWeek = Type.String({ maxLength: 60, description: say.daysOfWeek });

/**
 * Somebody who sends things: an order before the cut-off of a working day leaves that day; it arrives on a delivery
 * day.
 */
export const Supplier = Type.Object(
  {
    id: Id,
    name: Name,
    workingDays: Type.Optional(DaysOfWeek),
    cutOff: Type.Optional(TimeOfDay),
    holidays: Type.Optional(Type.Array(CalendarDate)),
    deliveryDays: Type.Optional(DaysOfWeek),
    deliveryTime: Type.Optional(TimeOfDay),
    lead: LeadTime,
    express: Type.Optional(
      Type.Object(
        { lead: LeadTime, extraCost: Type.Optional(Type.Number({ minimum: 0 })) },
        { additionalProperties: false },
      ),
    ),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Supplier = Static<typeof Supplier>;

/**
 * Until when an order counts for its day where nobody has said it: what is sent in the evening is read the next morning
 * (common practice, no source).
 */
export const ASSUMED_CUT_OFF = '17:00';
