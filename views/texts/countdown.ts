/** The words of the Countdown and of its pictures. */
export const countdownTexts = {
  ready: 'Ready',
  notReady: 'No date yet',
  notReadyWhy: 'Something has to be mended first; it stands under “To be mended”.',
  roomBefore: (room: string, target: string) => `room ${room} before the ${target}`,
  lateAfter: (length: string, target: string) => `${length} too late for the ${target}`,
  nothingLeft: 'Everything is made',
  chance: (percent: string, target: string) => `${percent} likely by the ${target}`,
  chanceAlso: (percent: string, target: string) => `${percent} by the ${target}`,
  over: (percent: number) => `over ${percent} %`,
  under: (percent: number) => `under ${percent} %`,
  quantiles: (half: string, eighty: string, ninetyFive: string) =>
    `Ready by ${half} in half of the futures, by ${eighty} in 80 of 100, by ${ninetyFive} in 95.`,
  futures: (count: number, points: string) => `${count} futures, give or take ${points} points.`,
  oldChance: (when: string, entries: number, edits: number) =>
    `These are old, from ${when}${since(entries, edits)}: new ones are being drawn.`,
  threats: 'What threatens the date',
  rooms: 'Room, apart',
  tight: 'What is tight',
  tightest: (name: string) => `The tightest step is ${name}.`,
  left: (left: string, done: string) => `${left} left, ${done} done`,
  pace: (has: string, needs: string) => `${has} an hour, needs ${needs}`,
  paceNeeds: (needs: string) => `needs ${needs} an hour`,
  whatIsLeft: 'What is left',
  handsLeft: 'hands',
  stepsLeft: (left: number, all: number) => `${left} of ${all} steps still open`,
  enough: 'Are there hands enough?',
  enoughNote: 'All work that is left against all hours before the ready-by, as if every hour fitted.',
  offered: (needed: string, offered: string) => `${needed} needed, ${offered} there`,
  spare: (length: string) => `${length} to spare`,
  shortBy: (length: string) => `${length} short: this cannot be done by these hands`,
  machineShortBy: (length: string) => `${length} short: this cannot be done by this machine`,
  enoughBy: (when: string) => `enough hours by ${when}`,
  hoursByDay: 'Hours by day',
  due: 'Due',
  orders: 'Orders',
  decisions: 'Decisions',
  orderBefore: (what: string, when: string) => `Order ${what} before ${when}`,
  sendBefore: (what: string, when: string) => `Send out ${what} before ${when}`,
  from: (supplier: string) => `from ${supplier}`,
  tooLate: 'the last moment has passed',
  arrives: (when: string) => `here ${when}`,
  decideBefore: (question: string, when: string) => `${question} Decide before ${when}`,
  waiting: (steps: string) => `${steps} waits for it`,
  nothingDue: 'Nothing to order and nothing to decide.',
  problems: 'To be mended',
  warnings: 'To look at',
  furtherWarnings: (n: number) => `${n} more`,
  incomplete: 'The dates are those of what could be planned; what is left out stands under “To be mended”.',
};

function since(entries: number, edits: number): string {
  const parts = [
    ...(entries > 0 ? [entries === 1 ? 'the last entry' : `the last ${entries} entries`] : []),
    ...(edits > 0 ? [edits === 1 ? 'the last edit' : `the last ${edits} edits`] : []),
  ];
  return parts.length === 0 ? '' : `, before ${parts.join(' and ')}`;
}
