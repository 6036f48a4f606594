/** What is wrong with units that are fixed at a time, or with people, of somebody's choice; in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { some } from '../../../texts/grammar.ts';

interface UnitsThere {
  readonly step: string;
  readonly units: number;
  readonly set: number | null;
}

inGerman(problemWords.pins, {
  twice: (step, units) =>
    `Bei „${step}“ ist zweimal festgelegt: ${units}; nimm eine der beiden Zeilen heraus oder teil die Stücke auf.`,
  noSet: (step, sets, set) =>
    `„${step}“ hat ${some(sets, 'Satz', 'Sätze')}, also lässt sich Satz ${set} nicht festlegen; nenn einen, den es gibt.`,
  notBySet: (step) => `„${step}“ gilt für das Ganze, nicht für jeden Satz; lass „Satz“ bei „Festgelegt“ leer.`,
  endsLate: (found, units) =>
    `${there(found)}, also hört „Festgelegt“ (${units}) bei Stück ${found.units} auf; setz „Bis Stück“ auf ${found.units}.`,
  beginsLate: (found, unit) =>
    `${there(found)}, also lässt sich Stück ${unit} nicht festlegen; fang spätestens bei ${found.units} an.`,
  units: (first, last) => {
    if (first === last) return `Stück ${first}`;
    if (last === null) return first === 1 ? 'alle Stücke' : `Stücke ab ${first}`;
    return `Stücke ${first} bis ${last}`;
  },
  turned: (step, last, first) =>
    `„Festgelegt“ bei „${step}“ hört mit Stück ${last} auf, bevor es mit Stück ${first} anfängt; tausch die beiden.`,
  empty: (step) =>
    `„Festgelegt“ bei „${step}“ sagt weder, wann es beginnt, noch, wer es macht; gib eines von beidem an oder nimm die Zeile heraus.`,
  noHours: (person, step) =>
    `${person} hat keine Stunden und kann für „${step}“ nicht festgelegt werden; trag Stunden ein oder nimm jemand anderen.`,
  mayNot: (person, step) =>
    `${person} darf „${step}“ nicht machen und kann dafür nicht festgelegt werden; nimm jemanden, der es darf, oder erlaub es ${person}.`,
  late: ({ step, fromUnit, pinned, earliest }, reason) =>
    `„${step}“${fromUnit === null ? '' : ` ab Stück ${fromUnit}`} ist auf ${pinned} festgelegt, kann aber frühestens ${earliest} beginnen: ${reason}. Verschieb es, oder was im Weg ist.`,
  lateBecause: {
    past: 'diese Zeit ist vorbei, und nichts davon ist eingetragen',
    away: (people) => `dann nicht da: ${people}`,
    lot: (step) => `es wartet auf „${step}“`,
    hands: (person, step) => `${person} ist dann mit „${step}“ beschäftigt`,
    machine: (machine, step) => `${machine} ist dann für „${step}“ belegt`,
    release: 'es darf nicht früher beginnen',
    sitting: 'vorher hat niemand dafür am Stück Zeit',
  },
});

function there({ step, units, set }: UnitsThere): string {
  return `„${step}“ hat${set === null ? '' : ` in Satz ${set}`} ${units} Stück`;
}
