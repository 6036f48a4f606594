/** What is wrong with boxes, the ways to the site, points and the work after the event, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

const LISTS: Readonly<Record<string, string>> = {
  boxes: 'Kisten',
  passages: 'Wegen zum Ort',
  points: 'Hängepunkten',
  strike: 'Abbauarbeiten',
};
const SIDES: Readonly<Record<string, string>> = { width: 'Breite', height: 'Höhe', depth: 'Tiefe' };

inGerman(problemWords.show, {
  depth: (name) =>
    `Bei ${name} fehlt die Tiefe; bei einem Transporter oder Aufzug muss sie da sein, in Millimetern, etwa 2400, sonst lässt sich keine Kiste darin prüfen.`,
  side: (name, side) =>
    `Bei ${name} fehlt: ${SIDES[side] ?? side}; gib alle drei Maße in Millimetern an, etwa 600, oder keines.`,
  twice: (list, id) => `„${id}“ ist der Kurzname von zwei ${LISTS[list] ?? list}; gib jedem einen eigenen.`,
  noPart: (box, part) => `${box} enthält „${part}“, das es in diesem Bau nicht gibt; nenn eines seiner Teile.`,
  noStep: (box, step) =>
    `${box} wird bei „${step}“ geöffnet, aber einen solchen Schritt und eine solche Prüfung hat dieser Bau nicht; nenn einen davon oder lass das Feld leer.`,
  noGate: (point, gate) =>
    `${point} wird mit „${gate}“ abgenommen, aber eine solche Prüfung hat dieser Bau nicht; nenn eine, die er hat.`,
  noPerson: (job, who) =>
    `${job} ist für „${who}“, aber diese Person gibt es in diesem Bau nicht; nenn eine, die es gibt.`,
  strikeTooSoon: (from, event) =>
    `„Der Abbau darf beginnen“ (strikeFrom) ist ${from}, vor der Veranstaltung um ${event}; abgebaut wird danach.`,
});
