/** What is wrong with the parts, their counts and where they come from. */
export const partTexts = {
  twice: (id: string) => `"${id}" is the id of two parts; each needs an id of its own.`,
  noCount: (name: string) =>
    `${name} has no count and is used in nothing, so none are made; give it a count or say what it is used in.`,
  circle: (names: string) =>
    `A part cannot be a part of itself: ${names}. Take one of these out of the other's "usedIn".`,
  tooMany: (name: string, units: number, most: number) =>
    `${name} would be ${units} units; at most ${most} can be planned.`,
  unknownUse: (name: string, part: string) =>
    `${name} is used in "${part}", which is not a part of this build; name one of its parts.`,
  noSupplier: (name: string) =>
    `${name} comes from outside, but names no supplier, so the plan assumes that it is here already. Name a supplier, or a step with a lead time.`,
  unknownSupplier: (id: string) => `"${id}" is not a supplier of this build; name one of its suppliers.`,
  wholePack: (name: string, size: number) =>
    `"packSize" of ${name} is ${size}. Pieces are whole numbers: make it 1 or more, or say by "unit" what ${name} is measured in, such as "L".`,
  wholeOnHand: (name: string, onHand: number) =>
    `"onHand" of ${name} is ${onHand}. Pieces are whole numbers: round it down, or say by "unit" what ${name} is measured in, such as "L".`,
  wasteOfPieces: (name: string, waste: number) =>
    `"waste" of ${name} is ${waste}, but it counts only for what is measured. Say by "unit" what ${name} is measured in, or give a "yield" of ${1 - waste} instead.`,
} as const;
