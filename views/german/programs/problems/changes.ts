/** The sentences for changes that cannot be made, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

/** Each kind of thing with its article, as the subject and as the object of a sentence, and bare. */
const THING = {
  build: ['der Bau', 'den Bau', 'Bau'],
  parameters: ['der Parameter', 'den Parameter', 'Parameter'],
  limits: ['die Grenze', 'die Grenze', 'Grenze'],
  parts: ['das Teil', 'das Teil', 'Teil'],
  suppliers: ['der Lieferant', 'den Lieferanten', 'Lieferant'],
  people: ['die Person', 'die Person', 'Person'],
  machines: ['die Maschine', 'die Maschine', 'Maschine'],
  steps: ['der Schritt', 'den Schritt', 'Schritt'],
  feeds: ['der Zulauf', 'den Zulauf', 'Zulauf'],
  gates: ['die Prüfung', 'die Prüfung', 'Prüfung'],
  decisions: ['die Entscheidung', 'die Entscheidung', 'Entscheidung'],
  boxes: ['die Kiste', 'die Kiste', 'Kiste'],
  passages: ['der Weg zum Ort', 'den Weg zum Ort', 'Weg zum Ort'],
  points: ['der Hängepunkt', 'den Hängepunkt', 'Hängepunkt'],
  strike: ['die Abbauarbeit', 'die Abbauarbeit', 'Abbauarbeit'],
} as const;
type Thing = keyof typeof THING;

inGerman(problemWords.changes, {
  thing: {
    build: THING.build[2],
    parameters: THING.parameters[2],
    limits: THING.limits[2],
    parts: THING.parts[2],
    suppliers: THING.suppliers[2],
    people: THING.people[2],
    machines: THING.machines[2],
    steps: THING.steps[2],
    feeds: THING.feeds[2],
    gates: THING.gates[2],
    decisions: THING.decisions[2],
    boxes: THING.boxes[2],
    passages: THING.passages[2],
    points: THING.points[2],
    strike: THING.strike[2],
  },
  theBuild: 'der Bau',
  theThing: (list, key) => `${THING[list][0]} „${key}“`,
  noList: (found) => `Eine Liste von Änderungen hat „format“, „version“, „build“ und „changes“; hier steht ${found}.`,
  format: (found) => `„format“ muss „daywright-changes“ sein; hier steht ${found}.`,
  version: (known, found) =>
    `Dieses Daywright liest Änderungen zu Version ${known} der Baudatei; diese gehören zu Version ${found}.`,
  otherBuild: (found, id) => `Diese Änderungen sind für den Bau „${found}“; das hier ist „${id}“.`,
  noObject: (found) => `Eine Änderung ist ein Objekt mit „kind“; hier steht ${found}.`,
  kind: (found, kinds) => `Eine Änderung muss eine von diesen sein: ${kinds}; hier steht ${found}.`,
  list: (found, lists) => `Ein Bau hat keine Liste ${found}; er hat ${lists}.`,
  field: (list, field, known) => `${THING[list][2]}: Ein Feld „${field}“ gibt es nicht; es gibt ${known}.`,
  fixed: (list, key, field) =>
    list === 'parameters'
      ? `Um den Namen des Parameters „${key}“ zu ändern, benenne ihn um; dann ändert er sich auch in jeder Formel.`
      : `${THING[list][2]} „${key}“: „${field}“ bleibt, denn anderes und die Zählungen beziehen sich darauf.`,
  gone: (list, key) => `Jemand hat ${THING[list][1]} „${key}“ entfernt; sieh dir den Plan an, wie er jetzt ist.`,
  there: (list, key) => `Es gibt schon ${someOf(list)} „${key}“; ändere dort die Felder oder nimm einen anderen Namen.`,
  otherKey: (list, key, own) =>
    `${THING[list][2]}: Das Neue heißt selbst „${own}“, in der Änderung aber „${key}“; beides muss gleich sein.`,
  noPlace: (list, key, after) =>
    `${THING[list][2]} „${key}“ kann nicht nach „${after}“ kommen, das es nicht gibt; nenn etwas, das es gibt, oder null für den Anfang.`,
  contradiction: (what, one, other) =>
    `Die Änderungen widersprechen sich: ${what} ${one} und ${other}. Behalte eine der beiden.`,
  changedSince: (what) =>
    `Diese Änderung lässt sich nicht allein zurücknehmen: ${what} hat sich seither geändert. Nimm zuerst die spätere Änderung zurück.`,
  nothingLeft: 'Hier ist nichts mehr zurückzunehmen: Alles, was diese Änderung geändert hat, ist wieder wie davor.',
  ofBuild: (field) => `„${field}“ am Bau`,
  named: (list, name) => `${THING[list][0]} „${name}“`,
  of: (field, what) => `„${field}“ (${what})`,
  does: {
    put: (thing) => `ist neu als ${thing}`,
    remove: 'wird entfernt',
    after: (after) => (after === null ? 'kommt zuerst' : `kommt nach „${after}“`),
    end: 'kommt zuletzt',
    set: (field, value) => `hat ${field} ${value}`,
    empty: (field) => `hat kein ${field}`,
    rename: (to) => `heißt „${to}“`,
  },
});

/** `ein Teil`, `eine Maschine`, `einen Schritt`. */
function someOf(list: Thing): string {
  const [, object, bare] = THING[list];
  return `${{ den: 'einen', die: 'eine', das: 'ein' }[object.slice(0, 3)] ?? ''} ${bareObject(object) ?? bare}`;
}

function bareObject(object: string): string {
  return object.slice(4);
}
