/** What is wrong with the ways in which parts come about. */
export const wayTexts = {
  twice: (part: string, way: string) => `Two ways of ${part} are called "${way}"; give each an id of its own.`,
  unknown: (part: string, way: string, ways: string) =>
    ways === ''
      ? `"${way}" is no way of ${part}, which has none; add the way to ${part}, or leave this empty.`
      : `"${way}" is no way of ${part}; name one of its ways: ${ways}.`,
  noPart: (step: string, way: string) =>
    `${step} belongs to the way "${way}", but works on no part; say which part, or leave the way empty.`,
  tooMany: (part: string, way: string, units: number, left: number) =>
    `${units} of ${part} are to come by "${way}", but only ${left} are needed beside the others; give at most ${left}.`,
} as const;
