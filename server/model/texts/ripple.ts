/** What is wrong with an answer about units that were made before a change. */
export const rippleTexts = {
  gone: (part: string, units: number) =>
    `You answered for ${units} × ${part}, but the counts have moved on since. Look at what there is now.`,
  whole: (part: string, units: number | string) => `Units of ${part} are a whole number from 0; this is ${units}.`,
  tooMany: (part: string, units: number, there: number) =>
    `You answered for ${units} × ${part}, but there ${there === 1 ? 'is' : 'are'} ${there}; answer for ${there} at most.`,
  noStep: (part: string, step: string) => `${part} does not pass the step "${step}"; name one that it passes.`,
  noRedo: (part: string, units: number) => `${units} × ${part} need rework; give the minutes of at least one step.`,
  minutes: (part: string, minutes: number | null) =>
    `Minutes of rework for one ${part} must be more than 0; this is ${minutes}.`,
} as const;
