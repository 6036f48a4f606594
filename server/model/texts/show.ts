/** What is wrong with boxes, the ways to the site, points and the work after the event. */
export const showTexts = {
  depth: (name: string) =>
    `"depth" of ${name} is missing; a van and a lift need it in millimetres, such as 2400, or no box can be tried in them.`,
  side: (name: string, side: string) =>
    `"${side}" of ${name} is missing; give all three sides in millimetres, such as 600, or none.`,
  twice: (list: string, id: string) => `"${id}" is the id of two of the ${list}; each needs an id of its own.`,
  noPart: (box: string, part: string) =>
    `${box} holds "${part}", which is not a part of this build; name one of its parts.`,
  noStep: (box: string, step: string) =>
    `${box} is opened at "${step}", which is not a step or a gate of this build; name one of them, or leave it empty.`,
  noGate: (point: string, gate: string) =>
    `${point} is signed for at "${gate}", which is not a gate of this build; name one of its gates.`,
  noPerson: (job: string, who: string) =>
    `${job} is for "${who}", who is not among the hands of this build; name one of them.`,
  strikeTooSoon: (from: string, event: string) =>
    `"strikeFrom" is ${from}, before the event at ${event}; taking down begins after it.`,
} as const;
