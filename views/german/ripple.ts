/** The words of a ripple, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { listOf } from '../texts/grammar.ts';
import { rippleTexts } from '../texts/ripple.ts';

inGerman(rippleTexts, {
  heading: 'Was davon abhängt',
  headingLater: 'Stücke zum Ansehen',
  nothing: 'Sonst hängt nichts davon ab.',
  parameters: 'Parameter',
  drawings: 'Zeichnungen',
  counts: 'Anzahlen',
  steps: 'Schritte und Bestellungen',
  gates: 'Sätze',
  boxes: 'Kisten',
  boxWith: (box, parts) => `${box} (${parts.join(', ')})`,
  spare: (part) => `Ersatz für ${part}`,
  points: 'Hängepunkte, kg',
  strike: 'Abbauarbeiten, Minuten',
  becomes: (name, before, after) => `${name} ${before} → ${after}`,
  sameCount: (name, count) => `${name} weiter ${count}`,
  stepBy: (name, why) => `${name} (${why.join(', ')})`,
  why: { units: 'Stückzahl', work: 'die Arbeit selbst', time: 'Minuten', link: 'worauf er wartet' },
  breaks: (name, value, bounds) => `Das verletzt eine Grenze. ${name} wäre ${value}; es muss ${bounds} sein.`,
  mends: (name) => `Damit ist die Grenze „${name}“ wieder eingehalten.`,
  made: 'Nach dem alten Wert gefertigt oder bestellt',
  madeNote:
    'Sag jeweils, wie viele noch gut sind, wie viele Nacharbeit brauchen und wie viele Ausschuss sind. Was du offenlässt, wird als ungeprüft gespeichert, überall beim Teil vermerkt und als Gefahr aufgeführt.',
  laterNote: 'Sag, wie viele noch gut sind, wie viele Nacharbeit brauchen und wie viele Ausschuss sind.',
  again: 'Speichere noch einmal, dann gilt die Änderung mit diesen Antworten.',
  state: {
    passed: (units, step) => `${units}, zuletzt durch ${step}`,
    mounted: (units, step) => `${units}, eingebaut bei ${step}`,
    'on-its-way': (units) => `${units}, unterwegs`,
    'on-hand': (units) => `${units}, vorrätig`,
  },
  good: 'Noch gut',
  rework: 'Nacharbeit',
  scrap: 'Ausschuss',
  redo: 'Nacharbeit: Minuten für ein Stück bei jedem Schritt, der zu wiederholen ist',
  redoNow: (minutes) => `jetzt ${minutes}`,
  redone: (step) => `${step} noch einmal`,
  couldUse: (parts, all) => `Andere Teile könnten sie brauchen: ${listOf(parts, 6, all)}. Prüf, ob eines passt.`,
  couldUsePart: (part, left, shares) => `${part} (${left} noch anzufangen, gemeinsam: ${shares.join(', ')})`,
  noUse: 'Kein anderes Teil dieses Baus ist aus demselben Material und hat noch Stücke anzufangen.',
  order: (part) => `Bestellung: ${part}`,
  unchecked: (units) => `${units} Stück ungeprüft`,
  because: (what) => `seit der Änderung „${what}“`,
  lookAt: 'Entscheiden, was mit ihnen geschieht',
});
