/** What is wrong with steps, gates, their feeds and what the plan can make of them. */
export const stepTexts = {
  twice: (id: string) => `"${id}" is the id of two steps; each needs an id of its own.`,
  gateTwice: (id: string) => `"${id}" is the name of a step or of another gate; each needs an id of its own.`,
  loggedAndGone: (id: string) =>
    `The log counts units of "${id}", which is no longer a step of this build; they are kept but not used.`,
  tooManyLots: (step: string, { left, lotSize, lots, allLots, most }: LotCount) =>
    `There is too much to plan: the ${left} units of "${step}" in lots of ${lotSize} make ${lots} lots, the whole build ${allLots}; at most ${most} lots can be planned. Give larger lots, or fewer units.`,
  tooManySets: (sets: number, most: number) =>
    `More sets than can be planned and counted: ${sets}, at most ${most}. Give fewer sets, or make what is alike a part with that many units.`,
  unknownPart: (step: string, part: string) =>
    `${step} is work on "${part}", which is not a part of this build; name one of its parts, or leave it out for a single job.`,
  takesAndPhases: (field: string) =>
    `"${field}" has both "takes" and "phases"; "takes" is the short form of one wait, so keep one of the two.`,
  unknownMachine: (id: string) => `"${id}" is not a machine of this build; name one of its machines.`,
  unknownPerson: (id: string) => `"${id}" is not a person of this build; name one of its people.`,
  nobody: (step: string, people: number, able: readonly string[]) => {
    const needs = people === 1 ? 'somebody' : `${people} people together`;
    const found = able.length === 0 ? 'nobody here may do it' : `only ${able.join(', ')} may, never ${people} at once`;
    return `"${step}" needs ${needs}, but ${found}. Add people or hours, or let more of them do it; until then the plan treats it as if it needed nobody.`;
  },
  feedsItself: (step: string) => `"${step}" cannot feed itself; name another step.`,
  nothingToFeed: (step: string) =>
    `"${step}" has no units to count, so it cannot feed by units; give it a part or a count, or make the link finish-start.`,
  ratio: (field: string, from: string, to: string, found: number) =>
    `"${field}" must be more than 0 units of "${from}" for one of "${to}"; it is ${found}.`,
  unknownStep: (id: string) => `"${id}" is not a step or gate of this build; name one of its steps.`,
  orphan: (step: string) =>
    `Nothing feeds "${step}" and it feeds nothing; say what it comes after, or what needs it, unless it may be done at any time.`,
  orphanLot: (lot: string) => `Nothing feeds ${lot} and it feeds nothing. Say what needs it.`,
  circle: (names: string) => `These wait for each other in a circle: ${names}. Remove one feed.`,
  lateDelivery: (step: string) =>
    `"${step}" should be here already; the plan assumes that it arrives now. Log what was received, or what the supplier promises.`,
  standoff: (step: string) =>
    `"${step}" is in hand and must finish after work that needs the same machine or place, so each would wait for the other; the plan lets it finish first. Remove that link, or log what happened.`,
  overloaded: (machine: string, loads: number, count: number) =>
    `By the log ${loads} loads are on "${machine}" at once, but there ${count === 1 ? 'is one' : `are ${count}`}; the plan keeps them all. Count what has come out, or undo a load.`,
  none: 'There are no steps yet; add the first kind of work to see dates.',
  beyondHorizon: (steps: string, days: number) =>
    `No time was found for ${steps} within ${days} days after the event: a sitting or a machine's hours are shorter than what must be done in one go, or the hours run out. Give longer hours or smaller lots.`,
  tooManyLinks: (links: number, most: number) =>
    `The steps, gates and decisions have ${links} links to each other; at most ${most} can be planned. Name only what a step waits for directly: the rest follows.`,
} as const;

interface LotCount {
  readonly left: number;
  readonly lotSize: number;
  readonly lots: number;
  readonly allLots: number;
  readonly most: number;
}
