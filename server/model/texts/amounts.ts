/** What is wrong with a number, a span of time or an estimate. */
export const amountTexts = {
  notFinite: (field: string) => `"${field}" must be a finite number.`,
  tooSmall: (field: string, least: number, found: string | number) =>
    `"${field}" must be at least ${least}; it is ${found}.`,
  negativeSpan: (field: string, minutes: number) =>
    `"${field}" is a length of time and must be 0 or more; it is ${minutes} minutes.`,
  longSpan: (field: string, minutes: number) => `"${field}" must be at most ten years; it is ${minutes} minutes.`,
  negativeEstimate: (field: string, minutes: number) =>
    `"${field}" is minutes a unit and must be 0 or more; it is ${minutes}.`,
  range: (field: string, found: string) =>
    `"${field}" must rise from low over likely to high, none below 0; it is ${found}.`,
  leadRange: (field: string) => `"${field}" must rise from low over likely to high working days, none below 0.`,
  limitTwice: (id: string) => `"${id}" is the id of two limits; each needs an id of its own.`,
  limitEmpty: (name: string) => `The limit "${name}" has neither a least nor a most; give it one, or both.`,
  limitCrossed: (name: string, least: number, most: number) =>
    `The least of the limit "${name}" (${least}) is above its most (${most}), so nothing can keep it; make it smaller.`,
  negative: (field: string, found: number) => `"${field}" must be 0 or more; it is ${found}.`,
} as const;
