/** The words of the load of people and machines by day, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { loadTexts } from '../../texts/glance/load.ts';
import { some } from '../../texts/grammar.ts';

inGerman(loadTexts, {
  heading: 'Auslastung nach Tagen',
  note: 'Wie viel von jedem Tag der Plan nutzt: Der Rahmen zeigt die Stunden, die Leute und Maschinen haben, die Schraffur, was geplant ist. Dicke Kappe: voll.',
  of: (planned, there) => `${planned} von ${there}`,
  none: 'frei',
  alike: (name, count) => `${name} (${count} gleiche)`,
  total: (planned, there) => `${planned} von ${there} geplant`,
  full: (days) => some(days, 'Tag voll', 'Tage voll'),
  nobody: 'In den nächsten Tagen haben weder Leute noch Maschinen Stunden.',
  wedge: (room, left, readyBy) =>
    `Luft ${room}, von ${left} bis zum Fertigtermin, ${readyBy}. Der Keil ist die Zeit, die bleibt; was zwischen der Linie und seinem Fuß frei ist, ist Luft.`,
  room: 'Luft',
  timeLeft: 'Zeit bis dahin',
});
