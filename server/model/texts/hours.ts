/** What is wrong with the hours of people, machines and suppliers. */
export const hoursTexts = {
  endlessNight: (from: string, to: string, length: string) =>
    `"${from}-${to}" runs over midnight for ${length}; write ${to}-${from}, or, if you mean it, ${from}-24:00 and on the next day 00:00-${to}.`,
  noSpans: 'The hours of a day are missing; write them like 09:00 to 13:00, or off.',
  noDays: 'The days are missing; write them like Mon to Fri, or Tue Thu.',
  noDay: (part: string, span: string) => `"${part}" has no day; start with days, such as Mon to Fri ${span}.`,
  noHours: (part: string) => `"${part}" has no hours; write them like ${part} 08:00 to 17:00.`,
  evenings: (part: string) => `"${part}" has no hours; write them like ${part} 18:00 to 22:00.`,
  bothOff: (day: string) =>
    `${day.charAt(0).toUpperCase()}${day.slice(1)} has hours and is off too; leave one of them out.`,
  wholeWeek: (word: string) => `"${word}" says the hours of all days and others follow; leave one of them out.`,
  drawnToo: (typed: string, drawn: string) =>
    `The hours are typed as "${typed}" and drawn as "${drawn}"; keep one: type what you drew, or leave the drawing as it was.`,
  notADay: (word: string, days: readonly string[]) => `"${word}" is not a day; days are ${days.join(', ')}, or daily.`,
  notASpan: (word: string) => `"${word}" is not a span of hours; write it like 08:00 to 12:00.`,
  offTheClock: (word: string) =>
    `"${word}" is not on the clock; a span starts between 00:00 and 23:59 and ends by 24:00.`,
  noMinutes: (word: string, meant: string) =>
    `"${word}" would run over midnight; write the minutes too, such as ${meant}.`,
  emptySpan: (word: string) => `"${word}" starts and ends at the same minute; a whole day is 00:00-24:00.`,
  dateTwice: (date: string) => `There are two lines for ${date}; put all hours of a day in one.`,
  personHasNone: (person: string) =>
    `${person} has no hours; write some, such as Mon to Fri 18:00 to 22:00, or take ${person} out.`,
  machineHasNone: (machine: string) => `${machine} has no hours; write some, such as always, or daily 08:00 to 20:00.`,
  supplierClosed: (date: string) =>
    `The supplier has no day on which it works or delivers for ten years from ${date} on; leave out some of the holidays.`,
  supplierHasNone: 'A supplier needs at least one working day and one delivery day; write them like Mon to Fri.',
  twice: (id: string) => `"${id}" is there twice; each needs an id of its own.`,
} as const;
