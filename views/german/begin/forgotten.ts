/** The words of what builds forget and of patterns of work, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { forgottenTexts } from '../../texts/begin/forgotten.ts';

inGerman(forgottenTexts, {
  heading: 'Was Bauten vergessen',
  note: 'Dieser Bau hat davon noch nichts. Ein Tippen setzt eine Zeile ins Feld; Zeiten sind geschätzt (übliche Praxis, keine Quelle): ändere sie.',
  patterns: 'Arbeitsmuster',
  patternsNote:
    'Ein Tippen setzt eine Zeile ins Feld. Name, Anzahl und Zeiten sind geschätzt (übliche Praxis, keine Quelle): setz deine eigenen ein.',
  reason: {
    cure: 'Farbe, Leim und Harz brauchen einen Tag, bevor jemand sie anfasst.',
    test: 'Etwa eine von zehn ersten Prüfungen wird nicht bestanden, und was durchfiel, wird nachgearbeitet.',
    spares: 'Etwa drei von hundert brechen, gehen verloren oder fallen herunter.',
    pack: 'Transportkisten, Decken und Gurte brauchen einen halben Tag zu zweit.',
    drive: 'Der Weg dorthin ist keine Arbeit an der Werkbank und braucht jemanden am Steuer.',
    'load-in': 'Hineintragen, Strom und ein Platz dafür brauchen zwei Leute zwei Stunden.',
    strike: 'Danach baut es jemand ab, trägt es hinaus und fährt es zurück: Es kommt zu „Am Tag“.',
  },
  pattern: {
    print: ['Eine Platte drucken', 'Eine Platte läuft unbeaufsichtigt; nimm die Zeit, die dein Slicer angibt.'],
    cut: ['Platten zuschneiden', 'Ein Anschlag oder eine Lehre wird einmal je Los eingestellt; stopp eines davon.'],
    order: [
      'Bestellen',
      'Die Tage eines Lieferanten zählen ab der Bestellung; eines als Ersatz, denn noch eine Bestellung dauert genauso lange.',
    ],
    paint: ['Streichen und trocknen', 'Trocknen braucht niemanden; nimm die Stunden, die auf der Dose stehen.'],
    press: ['Einpressen', 'Schneid erst einen Probestreifen: Eine falsche Passung ist bei allen falsch.'],
    fit: ['Einbauen', 'Stopp die ersten drei: Die erste Schätzung ist halb so lang, wie es dauert.'],
    wire: ['Verdrahten', 'Eines nach dem anderen, damit ein Fehler bei einem bleibt.'],
    soak: ['Dauerlauf', 'Über Nacht findet er, was eine Stunde nicht findet.'],
    test: [
      'Prüfung, die etwas zurückgibt',
      'Eine neue Prüfung wird etwa jedes fünfte Mal nicht bestanden; was sie zurückgibt, sagt „3 back to …“.',
    ],
    pack: ['Packen', 'Ein halber Tag zu zweit.'],
    'load-in': ['Aufbau', 'Zwei Leute, zwei Stunden, ohne das, was dort schiefgeht.'],
    strike: ['Abbau', 'Abbauen geht schneller als Aufbauen, aber dann sind alle müde.'],
  },
});
