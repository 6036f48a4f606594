/** The usual cautions, in German: what the English says, no more and no less; what each fact rests on stays. */

import { inGerman } from '../../server/model/texts/language.ts';
import { CAUTIONS, cautionTexts, TIRED_HANDS } from '../texts/cautions.ts';
import { listOf } from '../texts/grammar.ts';

const published = (text: string, source: string) => ({ text, basis: 'published', source });
const memory = (text: string, source: string) => ({ text, basis: 'memory', source });
const practice = (text: string) => ({ text, basis: 'practice' });

inGerman(cautionTexts, {
  basis: {
    published: (source) => source,
    memory: (source) => `${source}; aus dem Gedächtnis`,
    practice: 'übliche Praxis, ohne Quelle',
  },
  bodies: (bodies) => `Wer dazu veröffentlicht: ${bodies.join('; ')}.`,
  perhaps: (byName, byMachine, machine) =>
    `Vielleicht auch: ${[
      ...(byName.length === 0 ? [] : [`${byName.join(', ')} (nach dem Namen)`]),
      ...(byMachine.length === 0 ? [] : [`${byMachine.join(', ')} (nach „${machine}“)`]),
    ].join(', ')}.`,
  footer: 'Allgemeine Hinweise. Örtliche Vorschriften, der Veranstaltungsort und Fachleute mit Zulassung entscheiden.',
  guessed: 'Diese Gefährdungen sind aus dem Namen geschlossen. Noch hat niemand sie geprüft.',
  right: 'Sie stimmen',
  mark: 'Vermerken',
  none: 'Keine Gefährdungen',
  heading: 'Vorsicht bei dem, was übrig ist',
  ofSteps: (title, steps) => `${title} (${listOf(steps)}): `,
});

inGerman(CAUTIONS, {
  dust: {
    id: 'dust',
    title: 'Holz- und Plattenstaub',
    line: 'Absaugung an und Maske auf; saugen, nicht kehren.',
    facts: [
      published(
        'Grenzwerte in Großbritannien über einen Tag von 8 Stunden: 3 mg/m³ für Hartholzstaub, 5 mg/m³ für Weichholzstaub.',
        'HSE, EH40',
      ),
      published('Hartholzstaub kann Krebs verursachen.', 'HSE, Merkblätter zur Holzbearbeitung'),
      memory(
        'Hartholzstaub gemischt mit anderem Holzstaub: Der Grenzwert für Hartholz gilt für alles zusammen.',
        'HSE, EH40',
      ),
      memory(
        'An der Maschine absaugen, dazu eine Maske tragen, und saugen statt kehren.',
        'HSE, Merkblätter zur Holzbearbeitung',
      ),
    ],
    bodies: ['HSE (EH40 und die Merkblätter zur Holzbearbeitung)', 'OSHA', 'NIOSH'],
  },
  spray: {
    id: 'spray',
    title: 'Sprühlack und Lösemittel',
    line: 'Luft in Bewegung, und keine Zündquelle in der Nähe.',
    facts: [
      published('Der Nebel brennt: Luft in Bewegung, und keine Zündquelle in der Nähe.', 'OSHA, 29 CFR 1910.107'),
      published('Für das Spritzen gelten eigene Regeln, in den USA 29 CFR 1910.107 und NFPA 33.', 'OSHA und NFPA'),
    ],
    bodies: ['OSHA', 'NFPA', 'HSE'],
  },
  blades: {
    id: 'blades',
    title: 'Klingen, Bohrer und Fräser',
    line: 'Schutzvorrichtung dran; Stecker ziehen, bevor du eine Klinge wechselst.',
    facts: [
      published(
        'Leitlinien zur Ermüdung verlangen, dass gefährliche Arbeit nicht in der Nacht und nicht am Ende langer Schichten liegt.',
        'HSE, HSG256',
      ),
      practice(
        'Schutzvorrichtung dran, keine weiten Ärmel, keine Handschuhe, und der Stecker gezogen, bevor eine Klinge gewechselt wird.',
      ),
    ],
    bodies: ['HSE (HSG256 zur Ermüdung, Merkblätter zur Holzbearbeitung)', 'OSHA'],
  },
  mains: {
    id: 'mains',
    title: 'Netzspannung',
    line: 'Spannungsfrei, bevor es jemand berührt; eine Fachkraft mit Zulassung, wo das Gesetz eine verlangt.',
    facts: [
      memory(
        'Vielerorts darf das nur eine Fachkraft mit Zulassung, und der Veranstaltungsort prüft es.',
        'IEC 60364, NFPA 70, BS 7671',
      ),
      memory(
        'Vor alles, was Menschen berühren können, gehört ein Fehlerstromschutzschalter (RCD, GFCI).',
        'IEC 60364, NFPA 70',
      ),
    ],
    bodies: ['IEC 60364', 'NFPA 70', 'BS 7671', 'die örtliche Behörde'],
  },
  batteries: {
    id: 'batteries',
    title: 'Lithiumzellen',
    line: 'Das Ladegerät, das für sie gemacht ist, und jemand dabei, während sie laden.',
    facts: [
      memory(
        'Akkus mit Schutzschaltung und das Ladegerät, das für sie gemacht ist; nie unbeaufsichtigt laden lassen.',
        'NFPA',
      ),
      memory(
        'Für den Transport gelten eigene Regeln: Prüfungen nach UN 38.3, UN 3480 für Zellen, die allein verschickt werden.',
        'ICAO und IATA',
      ),
    ],
    bodies: ['NFPA', 'OSHA', 'ICAO und IATA', 'die örtliche Feuerwehr'],
  },
  'hot-work': {
    id: 'hot-work',
    title: 'Heißarbeit',
    line: 'Feuerlöscher zur Hand; die Stelle nach dem letzten Funken beobachten.',
    facts: [
      memory(
        'Schweißen, Schleifen und offene Flamme brauchen an einem Veranstaltungsort meist einen Erlaubnisschein.',
        'NFPA 51B',
      ),
      practice(
        'Wegräumen, was brennt, einen Feuerlöscher zur Hand haben, und die Stelle nach dem letzten Funken beobachten.',
      ),
    ],
    bodies: ['NFPA 51B', 'HSE', 'der Veranstaltungsort und sein Brandschutzbeauftragter'],
  },
  lasers: {
    id: 'lasers',
    title: 'Laserschneider',
    line: 'Jemand beaufsichtigt ihn, solange er läuft; kein PVC.',
    facts: [
      practice('Er läuft nie, ohne dass ihn jemand beaufsichtigt.'),
      memory('Kein PVC: Es setzt Chlorverbindungen frei, die Menschen und Maschine schaden.', 'Datenblatt von PVC'),
    ],
    bodies: ['IEC 60825-1', 'ANSI Z136'],
  },
  resins: {
    id: 'resins',
    title: 'Harze',
    line: 'Handschuhe an, Luft in Bewegung.',
    facts: [
      published(
        'Epoxid: nicht auf die Haut, und Luft in Bewegung; eine Sensibilisierung geht nicht wieder weg.',
        'OSHA und Merkblätter der US-Bundesstaaten',
      ),
      memory('Handschuhe, die zum Harz passen; nur was ausgehärtet ist, kommt in den Abfall.', 'Datenblatt des Harzes'),
    ],
    bodies: ['OSHA und Merkblätter der US-Bundesstaaten', 'HSE'],
  },
  height: {
    id: 'height',
    title: 'Leitern und Arbeit in der Höhe',
    line: 'Nicht allein; sicherer Stand, und niemand darunter.',
    facts: [
      practice('Niemand arbeitet allein in der Höhe.'),
      practice('Sicherer Stand, Hände frei, Werkzeug an der Leine, und der Bereich darunter bleibt frei.'),
    ],
    bodies: ['HSE', 'OSHA'],
  },
  overhead: {
    id: 'overhead',
    title: 'Was über Menschen hängt',
    line: 'Anschlagmittel mit angegebener Tragfähigkeit, eine zweite Sicherung, und die Unterschrift, bevor jemand darunter geht.',
    facts: [
      published(
        'Als Mindestes für Anschlagmittel wird meist ein Faktor von 5 zu 1 genannt.',
        'Texte über Anschlagmittel, die ihn anführen',
      ),
      memory('Über Menschen verlangt die Veranstaltungstechnik 8 zu 1 oder 10 zu 1.', 'ANSI und ESTA, DGUV'),
      memory(
        'Anschlagmittel mit angegebener Tragfähigkeit, eine zweite Sicherung, und eine qualifizierte Person, die dafür unterschreibt.',
        'LOLER, DGUV',
      ),
    ],
    bodies: ['LOLER', 'ANSI und ESTA', 'DGUV', 'der Rigger des Veranstaltungsorts'],
  },
  lifting: {
    id: 'lifting',
    title: 'Heben',
    line: 'Das Gewicht kennen, wer hebt, und den Weg.',
    facts: [
      practice('Vor dem Tag wiegen, festlegen, wer hebt, und den Weg freiräumen, auf dem es getragen wird.'),
      memory(
        'Was sicher ist, hängt von Reichweite, Höhe und Häufigkeit ab, nicht vom Gewicht allein.',
        'HSE zum Heben und Tragen von Hand, Hebeformel von NIOSH',
      ),
    ],
    bodies: ['HSE (Heben und Tragen von Hand)', 'NIOSH (Hebeformel)'],
  },
  fumes: {
    id: 'fumes',
    title: 'Dämpfe vom Drucken und von heißem Kunststoff',
    line: 'Luft in Bewegung oder das Gehäuse geschlossen; nicht daneben sitzen.',
    facts: [
      memory(
        'Beim Drucken und Erhitzen von Kunststoff entstehen Dämpfe und sehr feine Partikel, bei manchen Kunststoffen weit mehr als bei anderen.',
        'NIOSH zum 3D-Druck',
      ),
      memory(
        'Ein Gehäuse mit Filter oder eine Absaugung ins Freie, und niemand stundenlang daneben.',
        'NIOSH zum 3D-Druck',
      ),
      memory('PVC wird nicht erhitzt: Es setzt Chlorwasserstoff frei.', 'Datenblatt von PVC'),
    ],
    bodies: ['NIOSH', 'HSE', 'das Datenblatt des Kunststoffs'],
  },
  noise: {
    id: 'noise',
    title: 'Lärm',
    line: 'Gehörschutz auf, bei allen im Raum.',
    facts: [
      memory(
        'Die Auslösewerte in Großbritannien über einen Tag von 8 Stunden sind 80 und 85 dB(A); NIOSH empfiehlt höchstens 85 dB(A).',
        'HSE zum Lärm bei der Arbeit, NIOSH',
      ),
      practice('Wenn du auf Armlänge die Stimme heben musst, ist es laut genug, um auf Dauer zu schaden.'),
    ],
    bodies: ['HSE (Lärm bei der Arbeit)', 'OSHA', 'NIOSH'],
  },
  'moving-parts': {
    id: 'moving-parts',
    title: 'Bewegte Teile und Finger des Publikums',
    line: 'Anhalten, bevor du hineingreifst; nichts, was ein Kinderfinger erreicht, darf quetschen.',
    facts: [
      practice(
        'Wo ein Spalt ist, werden Finger sein: abschirmen, abdecken, oder so langsam und schwach machen, dass es nicht verletzen kann.',
      ),
      memory('Normen für Maschinen nennen Reichweiten und Spalte: ISO 13857 und ISO 13854.', 'ISO 13857, ISO 13854'),
      practice('Ein Stoppschalter, den jeder findet, in Reichweite dessen, der darauf aufpasst.'),
    ],
    bodies: ['ISO 12100', 'ISO 13857', 'ISO 13854', 'der Veranstaltungsort'],
  },
  pressure: {
    id: 'pressure',
    title: 'Druckluft',
    line: 'Augen und Ohren schützen; den Druck ablassen, bevor du abkuppelst.',
    facts: [
      memory('Nie auf Haut, Augen oder Kleidung: Luft kann in den Körper eindringen.', 'HSE, HSG39'),
      memory('Zum Reinigen erlauben die USA weniger als 30 psi an der Düse (29 CFR 1910.242).', 'OSHA'),
      practice('Abgestellt und entleert, wenn niemand da ist.'),
    ],
    bodies: ['OSHA', 'HSE'],
  },
  glass: {
    id: 'glass',
    title: 'Glas und scharfe Kanten',
    line: 'Handschuhe an, Augen geschützt; hochkant tragen, zu zweit je Scheibe.',
    facts: [
      practice(
        'Jede Kante brechen oder schleifen, die eine Hand berühren wird, an der Werkbank und bei der Veranstaltung.',
      ),
      memory(
        'Wo Menschen dagegen fallen können, Sicherheitsglas: EN 12600 und ANSI Z97.1 teilen es in Klassen ein.',
        'EN 12600, ANSI Z97.1',
      ),
    ],
    bodies: ['EN 12600', 'ANSI Z97.1', 'HSE', 'der Veranstaltungsort'],
  },
  'solvent-rags': {
    id: 'solvent-rags',
    title: 'Lappen mit Öl oder Lösemittel',
    line: 'Keine Lappen auf einem Haufen: flach im Freien, oder in Wasser in einem Metallbehälter mit Deckel.',
    facts: [
      memory(
        'Lappen mit Leinöl und anderen trocknenden Ölen erhitzen sich von selbst und können noch Stunden später brennen.',
        'NFPA',
      ),
      memory(
        'Flach im Freien ausbreiten, bis sie steif sind, oder unter Wasser in einen Metallbehälter mit Deckel, nie auf einen Haufen oder in einen Sack.',
        'NFPA',
      ),
    ],
    bodies: ['NFPA', 'OSHA', 'die örtliche Feuerwehr'],
  },
  'outdoor-mains': {
    id: 'outdoor-mains',
    title: 'Vorübergehende Stromversorgung im Freien',
    line: 'Steckverbindungen weg vom Boden und abgedeckt; nach Regen noch einmal nachsehen, bevor eingeschaltet wird.',
    facts: [
      memory(
        'Ein Fehlerstromschutzschalter (RCD, GFCI) mit höchstens 30 mA vor allem, was Menschen berühren können.',
        'IEC 60364-7-711 und 7-740',
      ),
      memory(
        'Gehäuse und Steckverbindungen für Regen (mindestens IP44), keine Kabel auf den Wegen.',
        'IEC 60364-7-740',
      ),
      memory(
        'Für vorübergehende Versorgungen gelten eigene Regeln, und eine befähigte Person unterschreibt dafür.',
        'BS 7909, NFPA 70',
      ),
    ],
    bodies: ['IEC 60364-7-711 und 7-740', 'BS 7909', 'NFPA 70', 'der Veranstaltungsort'],
  },
  isocyanates: {
    id: 'isocyanates',
    title: 'Zweikomponenten-Beschichtungen mit Isocyanaten',
    line: 'Zugeführte Atemluft beim Spritzen, Handschuhe an, niemand sonst im Raum, bis die Beschichtung ausgehärtet ist.',
    facts: [
      memory('Eine Hauptursache von Asthma durch Arbeit; wer sensibilisiert ist, dem genügt eine Spur.', 'HSE'),
      memory('Beim Spritzen genügt keine Filtermaske: Atemluft wird zugeführt.', 'HSE'),
      memory(
        'In der EU braucht vorher eine Schulung, wer sie bei der Arbeit verwendet (REACH, seit August 2023).',
        'REACH, Anhang XVII, Eintrag 74',
      ),
    ],
    bodies: ['HSE', 'ECHA (REACH)', 'OSHA', 'NIOSH'],
  },
  driving: {
    id: 'driving',
    title: 'Müde am Steuer',
    line: 'Es fährt, wer geschlafen hat.',
    facts: [
      practice('In der Nacht vor dem Aufbau wird geschlafen, oder jemand anders fährt.'),
      memory(
        'Empfehlung in Großbritannien: nach je zwei Stunden am Steuer 15 Minuten Pause.',
        'Highway Code (Großbritannien), Regel 91',
      ),
      practice('Die Ladung wiegen, festzurren, und wissen, was der Transporter tragen darf.'),
    ],
    bodies: ['Highway Code (Großbritannien)', 'NHTSA', 'die Versicherung des Transporters'],
  },
  'public-decor': {
    id: 'public-decor',
    title: 'Dekoration, wo Publikum hinkommt',
    line: 'Den Veranstaltungsort nach dem Brandschutzzeugnis fragen, das er verlangt, bevor das Material gekauft wird.',
    facts: [
      published(
        'Veranstaltungsorte verlangen ein Brandschutzzeugnis des Herstellers oder eines Dritten; vor dem Kauf des Materials danach fragen.',
        'Brandschutzregeln einer Stadt in den USA',
      ),
      published(
        'Eine Stadt in den USA erkennt Zeugnisse ein Jahr lang an und keine für Material, das der Macher behandelt hat.',
        'Brandschutzregeln dieser Stadt',
      ),
      published(
        'Eine Hochschule in den USA lässt behandelte Dekoration auf höchstens einem Zehntel von Wand und Decke zu.',
        'Brandschutzregeln dieser Hochschule',
      ),
    ],
    bodies: ['NFPA 701', 'EN 13501-1', 'DIN 4102', 'die Brandschutzbehörde'],
  },
});

inGerman(TIRED_HANDS, {
  id: 'tired-hands',
  title: 'Müde Hände',
  line: 'Erst ausruhen: nichts Gefährliches in der Nacht oder am Ende einer langen Schicht.',
  facts: [
    published(
      'Leitlinien verlangen, anstrengende, gefährliche oder sicherheitskritische Arbeit aus der Nacht und vom Ende langer Schichten fernzuhalten.',
      'HSE, HSG256',
    ),
    published('Zwischen 02:00 und 06:00 ist die Gefahr von Fehlern am größten.', 'ein Text, der HSE, HSG256 anführt'),
    published(
      'Für Beschäftigte in der EU: 11 Stunden Ruhe in 24, im Mittel höchstens 48 Stunden in der Woche.',
      'Richtlinie 2003/88/EG, amtliche Zusammenfassung',
    ),
    memory(
      'Schichten von höchstens 12 Stunden, nicht mehr als 2 oder 3 Nächte hintereinander, kein Beginn vor 07:00.',
      'HSE, HSG256',
    ),
  ],
  bodies: ['Richtlinie 2003/88/EG', 'HSE (HSG256)'],
});
