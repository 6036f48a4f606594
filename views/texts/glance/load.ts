/** The words of the load of people and machines by day, and of the room as a wedge to the event. */
import { worded } from '../../../server/model/texts/language.ts';

export const loadTexts = worded({
  heading: 'Load by day',
  note: 'How much of each day the plan uses: the frame shows the hours people and machines have, the hatch what is planned. A thick cap: full.',
  of: (planned: string, there: string) => `${planned} of ${there}`,
  none: 'free',
  alike: (name: string, count: number) => `${name} (${count} alike)`,
  total: (planned: string, there: string) => `${planned} planned of ${there}`,
  full: (days: number) => (days === 1 ? '1 day full' : `${days} days full`),
  nobody: 'Nobody and no machine has hours in the days ahead.',
  wedge: (room: string, left: string, readyBy: string) =>
    `Room ${room}, of ${left} to the ready-by, ${readyBy}. The wedge is the time that is left; what is bare between the line and its foot is room.`,
  room: 'Room',
  timeLeft: 'Time left',
});
