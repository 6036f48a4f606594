/** The words of Show day: open points, pack list, ways to the site, points, run sheet, strike, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { byNumber, listOf, some } from '../../texts/grammar.ts';
import { showTexts } from '../../texts/paper/show.ts';

inGerman(showTexts, {
  stops: {
    heading: 'Was die Veranstaltung stoppen könnte',
    none: 'Offen ist nichts, von dem das Programm weiß.',
    late: (by) => `Die Arbeit vor Ort endet ${by} nach der Veranstaltung.`,
    'no-spare': (part, need) =>
      `${part}: ${need === 1 ? 'eines' : need} im Bau, keines als Ersatz. Nimm eines mit, oder klär, wie es ohne geht.`,
    unsigned: (step, hazard, gate) =>
      gate === null
        ? `${step} (${hazard}): Danach kommt keine Prüfung, an der eine befähigte Person abnimmt.`
        : `${step} (${hazard}): Die Prüfung „${gate}“ nennt niemanden, der abnimmt.`,
    'no-certificate': (step) =>
      step === null
        ? 'Für Publikum, und noch kein Zeugnis, wie das Material brennt: Frag das Haus, welches es will, und sag unter Inhalt, wenn es da ist. Örtliche Vorschriften und das Haus entscheiden.'
        : `${step}: Dekoration, wo Publikum hinkommt, und noch kein Zeugnis gesehen: Von außen ist keines gekommen, und keine so markierte Prüfung fragt danach.`,
    undecided: (question, by) =>
      by === null ? `Nicht entschieden: ${question}` : `Nicht entschieden: ${question} Vor ${by} entscheiden.`,
    unsettled: (parameter, by) =>
      by === null ? `Noch nicht bekannt: ${parameter}.` : `Noch nicht bekannt: ${parameter}. Vor ${by} herausfinden.`,
    'gate-open': (gate, left) => `Prüfung „${gate}“ noch nicht bestanden${left > 1 ? `: noch ${left} Prüfungen` : ''}.`,
    'no-power-on': {
      home: 'Keine Prüfung ist als Einschaltprobe zu Hause markiert, wo es sich noch reparieren lässt.',
      venue: 'Keine Prüfung ist als Einschaltprobe am Veranstaltungsort markiert.',
    },
    powerOnSoon: (hasLoadIn) => `Schalte es dort an einem Tag ${before(hasLoadIn)} ein.`,
    powerOnNow: (hasLoadIn) => `Es bleibt keine Nacht mehr ${before(hasLoadIn)}: Schalte es dort jetzt ein.`,
    'point-over': (point, by) => `Hängepunkt ${point} trägt ${by} mehr, als er darf.`,
    'point-unsigned': (points) => `Keine befähigte Person hat abgenommen: ${listOf(points)}.`,
    'no-fit': (box, passage, side, by) => `${box} passt nicht: ${passage}, ${side} ${by} zu lang.`,
    overloaded: (passage, by) => `${passage}: ${by} über der Nutzlast.`,
    unpacked: (what) => `In keiner Kiste: ${what}.`,
  },
  pack: {
    heading: 'Packliste',
    order:
      'Kiste 1 wird vor Ort zuerst geöffnet, also kommt sie zuletzt in den Transporter. Lade vom Ende dieser Liste zu ihrem Anfang.',
    none: 'Noch keine Kiste. Leg eine an und sag, welche Teile und welches Werkzeug hineinkommen.',
    place: (n) => `Kiste ${n}`,
    opens: (step, when) => (when === null ? `geöffnet bei ${step}` : `geöffnet bei ${step}, ${when}`),
    opensNone: 'geöffnet, wenn sie gebraucht wird',
    part: (units, part) => `${units}\u00a0×\u00a0${part}`,
    spare: (units, part) => `${units}\u00a0×\u00a0${part} als Ersatz`,
    amount: (amount, part) => `${amount} ${part}`,
    amountSpare: (amount, part) => `${amount} ${part} als Ersatz`,
    tooMany: (units, part) => `${units} × ${part} mehr, als vor Ort gebraucht wird`,
    parts: 'Teile',
    spares: 'Ersatz',
    tools: 'Werkzeug',
    kit: 'Reparaturset',
    empty: 'Noch nichts darin.',
    size: (w, h, d) => `${w} × ${h} × ${d}\u00a0mm`,
    noSize: 'keine Maße angegeben',
    weight: (kg) => `${kg}\u00a0kg`,
    noWeight: 'nicht gewogen',
    carriers: (n) => (n === 1 ? 'eine Person hebt sie' : `${n} heben sie zusammen`),
    heavy: (by, carriers, guideline) =>
      `${by}\u00a0kg über dem Richtwert von ${guideline}\u00a0kg für ${carriers === 1 ? 'eine Person' : `${carriers} Leute`}: aufteilen, mehr Hände oder ein Rollwagen.`,
    proposals: {
      heading: (n) => `Für die Kisten vorgeschlagen: ${n}`,
      note: 'Nichts ist gepackt, bevor du es nimmst; jedes kommt in die Kiste, die du wählst.',
      waiting: 'Der Plan wird nach der letzten Änderung neu gerechnet: Nimm gleich mehr.',
      units: (units, part) => `${units}\u00a0×\u00a0${part}, in keiner Kiste`,
      spares: (units, part) => `${units}\u00a0×\u00a0${part} als Ersatz, in keiner Kiste`,
      'one-more': (part) =>
        `1\u00a0×\u00a0${part} mehr: Es gibt keinen Ersatz, und ohne das Teil steht die Veranstaltung. Wer es nimmt, setzt ein Ersatzteil in den Entwurf.`,
      tool: (tool, steps) => `${tool}, Werkzeug für ${listOf(steps, steps.length)}`,
      repair: (part) => `etwas ${part}, für Reparaturen`,
      into: (what) => `Kiste für ${what}`,
      newBox: 'eine neue Kiste',
      newName: (n) => `Kiste ${n}`,
      take: 'Hineinlegen',
      notNeeded: 'Nicht nötig',
      again: 'Wieder vorschlagen',
      notNeededHeading: (n) => `Nicht nötig, wie du gesagt hast: ${n}`,
      powerOn: { home: 'eine Einschaltprobe zu Hause', venue: 'eine Einschaltprobe am Veranstaltungsort' },
    },
    heavySource:
      'Richtwert: 25 kg für einen Mann, 16 kg für eine Frau, nah am Körper in Hüfthöhe; zu zweit zwei Drittel von dem, was beide einzeln heben, bei mehr als zweien die Hälfte (HSE, Manual handling at work, INDG143 und L23; ISO 11228-1; aus dem Gedächtnis). Das ist keine gesetzliche Grenze; die örtlichen Vorschriften entscheiden.',
    unpacked: (what) => `In keiner Kiste: ${listOf(what, what.length)}.`,
    allPacked: 'Alles, was vor Ort gebraucht wird, ist in einer Kiste.',
    nothing: 'Kein Teil geht zum Veranstaltungsort: Kein Schritt des Plans ist vor Ort.',
    done: (packed, all) => `${packed} von ${byNumber(all, '1 Kiste', `${all} Kisten`)} gepackt`,
    tick: 'Gepackt',
    untick: 'Doch nicht gepackt',
    packed: (when, who) => `gepackt ${when}, ${who}`,
    maker: 'Macher',
    kept: 'auf diesem Handy aufgehoben, bis der Laptop antwortet',
    sent: 'auf dem Laptop gespeichert',
  },
  ways: {
    heading: 'Transporter, Türen, Aufzug',
    none: 'Noch kein Transporter, keine Tür und kein Aufzug. Miss alles auf dem Weg: lichte Breite, Höhe und Tiefe, und was es tragen darf.',
    kinds: { van: 'Transporter', door: 'Tür', lift: 'Aufzug' },
    size: (sides) => `${sides}\u00a0mm licht`,
    payload: (kg) => `trägt ${kg}\u00a0kg`,
    fits: (n, all) =>
      all === 0
        ? 'keine Kiste zum Probieren'
        : all === 1
          ? `die Kiste ${n === 1 ? 'passt' : 'passt nicht'}`
          : n === all
            ? `alle ${all} Kisten passen`
            : `${n} von ${all} Kisten ${byNumber(n, 'passt', 'passen')}`,
    noFit: (box, turned, over) =>
      `${box} passt nicht; gedreht auf ${turned}\u00a0mm ist es immer noch ${over} zu lang.`,
    over: (side, by) => `${by}\u00a0mm in der ${side}`,
    sides: { width: 'Breite', height: 'Höhe', depth: 'Tiefe' },
    unknown: (boxes) => `Ohne Maße: ${listOf(boxes, boxes.length)}.`,
    unweighed: (boxes) => `Nicht gewogen: ${listOf(boxes, boxes.length)}.`,
    weight: (load, payload) => `${load} von ${payload}\u00a0kg`,
    heaviest: (load, payload) => `schwerste Kiste ${load} von ${payload}\u00a0kg`,
    tooHeavy: (by) => `${by}\u00a0kg zu schwer`,
    volume: (load, room) =>
      `${load} von ${room}\u00a0L; zwischen Kisten bleiben Lücken, probier es also vorher auf dem Boden`,
    tooFull: (by) => `${by}\u00a0L mehr, als hineingeht`,
  },
  points: {
    heading: 'Hängepunkte',
    none: 'Noch kein Hängepunkt. Für jeden: was dort hängt, was er tragen darf, wer abnimmt.',
    load: (load, limit) => `${load} von ${limit}\u00a0kg`,
    unknown: (limit) => `Last nicht bekannt, Grenze ${limit}\u00a0kg`,
    over: (by) => `${by}\u00a0kg zu viel`,
    margin: (by) => `noch ${by}\u00a0kg frei`,
    signed: (who) => `abgenommen von ${who}`,
    toSign: (who, gate) => `${who} nimmt bei „${gate}“ ab`,
    noGate: (who) => `${who} nimmt ab, noch bei keiner Prüfung`,
    nobody: 'niemand genannt, der abnimmt',
    note: 'Eine befähigte Person nimmt jeden Hängepunkt ab. Der Veranstaltungsort und die örtlichen Vorschriften entscheiden, wer das ist.',
  },
  run: {
    heading: 'Ablaufplan',
    note: 'Wie geplant, vom Aufbau bis zur Veranstaltung. Der letzte Moment hält die Veranstaltung: Wer später anfängt, kommt zu spät.',
    none: 'Kein Schritt geschieht vor Ort. Markiere unter Schritte, welche es tun.',
    past: 'Vor Ort ist nichts mehr zu tun.',
    gate: 'Prüfung',
    loadIn: 'Aufbau',
    event: 'Veranstaltung',
    ready: 'Fertigtermin',
    last: (when) => `letzter Moment ${when}`,
    nobody: 'niemand nötig',
    who: (names, length) => `${listOf(names, names.length)}, ${length}`,
    units: (n) => `${n}\u00a0×`,
    kinds: { hands: '', load: 'beladen', unload: 'entladen', run: 'läuft', wait: 'wartet' },
    incomplete:
      'Nicht vollständig: Was über Menschen hängt und was Netzspannung führt, braucht eine namentlich genannte befähigte Person und eine Prüfung, bei der sie abnimmt.',
    pointUnnamed: (point) => `Hängepunkt ${point}: niemand genannt, der abnimmt.`,
    pointUngated: (point, who) => `Hängepunkt ${point}: ${who} nimmt ab, noch bei keiner Prüfung.`,
    notYet: (steps) =>
      `Vor Ort noch zu tun, aber nicht in diesem Ablauf, weil niemand es darf oder dafür frei ist: ${listOf(steps, steps.length)}.`,
  },
  power: {
    heading: 'Einschaltprobe',
    none: 'Keine Prüfung ist als Einschaltprobe markiert. Markiere eine zu Hause und eine am Veranstaltungsort; ihre Notiz sagt, was zu tun ist, wenn sie misslingt.',
    home: 'zu Hause',
    homeBefore: (hasLoadIn) => `zu Hause, an einem Tag ${before(hasLoadIn)}`,
    venue: 'am Veranstaltungsort',
    passed: 'bestanden',
    tooLate: (hasLoadIn) =>
      `Es bleibt keine Nacht ${before(hasLoadIn)}, um zu reparieren, was misslingt: zieh die Probe vor.`,
    last: (when) => `letzter Moment ${when}`,
    fails: 'Wenn sie misslingt:',
    noNote: 'Niemand hat aufgeschrieben, was zu tun ist, wenn sie misslingt.',
  },
  strike: {
    heading: 'Abbau und Rückgabe',
    note: 'Nach der Veranstaltung, eine Arbeit nach der anderen.',
    fromEvent: 'Gerechnet ab der Veranstaltung selbst: Sag im Inhalt, ab wann abgebaut werden darf.',
    none: 'Noch keine Arbeit: abbauen, hinaustragen, zurückfahren, Geliehenes zurückgeben.',
    line: (people, length) => `${people}, ${length}`,
    hands: (n) => some(n, 'Person', 'Leute'),
    end: (when) => `fertig ${when}`,
  },
  jump: 'Auf dieser Seite',
  refused: {
    box: (box) => `„${box}“ ist keine Kiste dieses Baus; hak eine der Kisten auf dieser Seite ab.`,
    proposal: (what) => `„${what}“ ist nicht mehr vorgeschlagen: Eine Kiste hat es, oder nichts fragt danach.`,
    answer: (answer) => `„${answer}“ ist keine Antwort auf einen Vorschlag; es gibt Hineinlegen, not-needed und again.`,
    entry: (id) => `Es gibt keinen Eintrag „${id}“ zum Zurücknehmen.`,
  },
});

function before(hasLoadIn: boolean): string {
  return hasLoadIn ? 'vor dem Aufbau' : 'vor der Veranstaltung';
}
