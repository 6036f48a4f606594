/** What is wrong with a pin: units at a time, or with people, of somebody's choice. */
export const pinTexts = {
  twice: (step: string, units: string) =>
    `Two pins on "${step}" hold ${units}; take one of the two out, or part their units.`,
  noSet: (step: string, sets: number, set: number) =>
    `"${step}" has ${sets === 1 ? '1 set' : `${sets} sets`}, so there is no set ${set} to fix; name one of them.`,
  notBySet: (step: string) => `"${step}" is for the whole and not for each set; leave the set of the pin empty.`,
  endsLate: (found: UnitsThere, units: string) =>
    `${there(found)}, so the pin on ${units} ends at unit ${found.units}; let it end there.`,
  beginsLate: (found: UnitsThere, unit: number) =>
    `${there(found)}, so unit ${unit} cannot be pinned; begin at ${found.units} or before.`,
  units: (first: number, last: number | null) => {
    if (first === last) return `unit ${first}`;
    if (last === null) return first === 1 ? 'all units' : `units from ${first} on`;
    return `units ${first} to ${last}`;
  },
  turned: (step: string, last: number, first: number) =>
    `The pin on "${step}" ends at unit ${last}, before it begins at unit ${first}; turn the two round.`,
  empty: (step: string) =>
    `The pin on "${step}" says neither when it begins nor who does it; give one of the two, or take the pin out.`,
  noHours: (person: string, step: string) =>
    `${person} has no hours, so "${step}" cannot be pinned to them; give them hours or pin it to somebody else.`,
  mayNot: (person: string, step: string) =>
    `${person} may not do "${step}", so it cannot be pinned to them; pin it to somebody who may, or let ${person} do it.`,
  late: ({ step, fromUnit, pinned, earliest }: LatePin, reason: string) =>
    `"${step}"${fromUnit === null ? '' : ` from unit ${fromUnit} on`} is pinned to ${pinned} but can begin ${earliest} at the earliest: ${reason}. Move the pin, or what is in its way.`,
  lateBecause: {
    past: 'that time has passed, and nothing of it is logged',
    away: (people: string) => `${people} cannot be there then`,
    lot: (step: string) => `it waits for "${step}"`,
    hands: (person: string, step: string) => `${person} is busy with "${step}"`,
    machine: (machine: string, step: string) => `"${step}" has the ${machine} then`,
    release: 'it may not begin earlier',
    sitting: 'nobody is free for it in one go before',
  },
} as const;

interface UnitsThere {
  readonly step: string;
  readonly units: number;
  readonly set: number | null;
}

interface LatePin {
  readonly step: string;
  readonly fromUnit: number | null;
  readonly pinned: string;
  readonly earliest: string;
}

function there({ step, units, set }: UnitsThere): string {
  return `"${step}" has ${units} units${set === null ? '' : ` in set ${set}`}`;
}
