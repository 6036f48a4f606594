/** What is wrong with an answer about units that were made before a change. */
export const rippleTexts = {
  gone: (part: string, units: number) =>
    `Of ${part} you answered for ${units} units that are not there any more: they were counted on since. Look at what there is now.`,
  whole: (part: string, units: number | string) => `Units of ${part} are a whole number from 0; this is ${units}.`,
  tooMany: (part: string, units: number, there: number) =>
    `Of ${part} you answered for ${units} units, and there are ${there} of them; answer for ${there} at most.`,
  noStep: (part: string, step: string) => `${part} does not pass the step "${step}"; name one that it passes.`,
  noRedo: (part: string, units: number) =>
    `${units} of ${part} are to be reworked, and no step says how; give the minutes of at least one step.`,
  minutes: (part: string, minutes: number | null) =>
    `Minutes of rework for one ${part} must be more than 0; this is ${minutes}.`,
} as const;
