/**
 * The usual cautions where a step carries a hazard. The tool points to who publishes the rules; it does not instruct.
 *
 * Each fact says on what it rests: `published` (read in the source named or in a text that quotes it), `memory` (the
 * source named says so, not read again for this table) or `practice` (common practice, no source).
 */

import { HAZARDS, type Hazard } from '../../server/model/step.ts';
import { worded } from '../../server/model/texts/language.ts';
import { listOf } from './grammar.ts';

export const cautionTexts = worded({
  /** On what a fact rests. */
  basis: {
    published: (source: string) => source,
    memory: (source: string) => `${source}; from memory`,
    practice: 'common practice, no source',
  },
  bodies: (bodies: readonly string[]) => `Who publishes on it: ${bodies.join('; ')}.`,
  /** Guessed by words: of the step's own name, and of its machine's. */
  perhaps: (byName: readonly string[], byMachine: readonly string[], machine: string) =>
    `Perhaps also: ${[
      ...(byName.length === 0 ? [] : [`${byName.join(', ')} (from its name)`]),
      ...(byMachine.length === 0 ? [] : [`${byMachine.join(', ')} (from “${machine}”)`]),
    ].join(', ')}.`,
  footer: 'General information. Local codes, the venue and licensed people decide.',
  guessed: 'These hazards are taken from its name. Nobody has looked at them yet.',
  right: 'They are right',
  mark: 'Mark them',
  none: 'No hazards',
  /** In a terminal, above the lines. */
  heading: 'Cautions for what is left',
  ofSteps: (title: string, steps: readonly string[]) => `${title} (${listOf(steps)}): `,
});

type CautionFact =
  | { readonly text: string; readonly basis: 'published' | 'memory'; readonly source: string }
  | { readonly text: string; readonly basis: 'practice' };

export interface Caution {
  readonly id: Hazard | 'tired-hands';
  readonly title: string;
  /** For the hand at work: one line, and no more of it. */
  readonly line: string;
  readonly facts: readonly CautionFact[];
  /** Who publishes rules or guidance on it. */
  readonly bodies: readonly string[];
}

/** The cautions for the hazards named, each once, in the order of the table. */
export function cautionsFor(hazards: Iterable<Hazard>): Caution[] {
  const named = new Set(hazards);
  return HAZARDS.filter((hazard) => named.has(hazard)).map((hazard) => CAUTIONS[hazard]);
}

const published = (text: string, source: string): CautionFact => ({ text, basis: 'published', source });
const memory = (text: string, source: string): CautionFact => ({ text, basis: 'memory', source });
const practice = (text: string): CautionFact => ({ text, basis: 'practice' });

/** One entry for every hazard a step can carry. */
export const CAUTIONS: Readonly<Record<Hazard, Caution>> = worded({
  dust: {
    id: 'dust',
    title: 'Wood and board dust',
    line: 'Extraction and mask on; vacuum, do not sweep.',
    facts: [
      published('UK limits over an 8 hour day: 3 mg/m³ for hardwood dust, 5 mg/m³ for softwood dust.', 'HSE, EH40'),
      published('Hardwood dust can cause cancer.', 'HSE, woodworking sheets'),
      memory('Hardwood dust mixed with other wood dust: the limit for hardwood holds for all of it.', 'HSE, EH40'),
      memory('Extract at the tool, wear a mask as well, and vacuum rather than sweep.', 'HSE, woodworking sheets'),
    ],
    bodies: ['HSE (EH40 and its woodworking sheets)', 'OSHA', 'NIOSH'],
  },
  spray: {
    id: 'spray',
    title: 'Spray paint and solvents',
    line: 'Air moving, and nothing nearby that can light it.',
    facts: [
      published('The mist burns: air moving, and nothing nearby that can light it.', 'OSHA, 29 CFR 1910.107'),
      published('Spraying has rules of its own, in the US 29 CFR 1910.107 and NFPA 33.', 'OSHA and NFPA'),
    ],
    bodies: ['OSHA', 'NFPA', 'HSE'],
  },
  blades: {
    id: 'blades',
    title: 'Blades and bits',
    line: 'Guard on; plug out before you change a blade.',
    facts: [
      published(
        'Guidance on fatigue asks that dangerous work stays out of the night and the end of long shifts.',
        'HSE, HSG256',
      ),
      practice('Guard on, loose sleeves and gloves off, and the plug out before a blade is changed.'),
    ],
    bodies: ['HSE (HSG256 on fatigue, woodworking sheets)', 'OSHA'],
  },
  mains: {
    id: 'mains',
    title: 'Mains electricity',
    line: 'Dead before anybody touches it; a licensed person where the law asks for one.',
    facts: [
      memory(
        'In many places only a licensed person may do it, and the venue inspects it.',
        'IEC 60364, NFPA 70, BS 7671',
      ),
      memory(
        'A residual current device (RCD, GFCI) belongs in front of everything that people can touch.',
        'IEC 60364, NFPA 70',
      ),
    ],
    bodies: ['IEC 60364', 'NFPA 70', 'BS 7671', 'the local authority'],
  },
  batteries: {
    id: 'batteries',
    title: 'Lithium cells',
    line: 'The charger made for them, and somebody there while they charge.',
    facts: [
      memory('Protected packs and the charger made for them; never left charging unattended.', 'NFPA'),
      memory('Transport has rules of its own: UN 38.3 tests, UN 3480 for cells sent by themselves.', 'ICAO and IATA'),
    ],
    bodies: ['NFPA', 'OSHA', 'ICAO and IATA', 'the local fire service'],
  },
  'hot-work': {
    id: 'hot-work',
    title: 'Hot work',
    line: 'Extinguisher at hand; watch the place after the last spark.',
    facts: [
      memory('Welding, grinding and open flame usually need a permit in a venue.', 'NFPA 51B'),
      practice('Clear what burns, keep an extinguisher at hand, and watch the place after the last spark.'),
    ],
    bodies: ['NFPA 51B', 'HSE', 'the venue and its fire officer'],
  },
  lasers: {
    id: 'lasers',
    title: 'Laser cutter',
    line: 'Somebody watches it as long as it runs; no PVC.',
    facts: [
      practice('It never runs without somebody watching it.'),
      memory('No PVC: it gives off chlorine compounds that harm people and machine.', 'the data sheet of PVC'),
    ],
    bodies: ['IEC 60825-1', 'ANSI Z136'],
  },
  resins: {
    id: 'resins',
    title: 'Resins',
    line: 'Gloves on, air moving.',
    facts: [
      published(
        'Epoxy: keep it off the skin and the air moving; sensitisation does not go away.',
        'OSHA and state bulletins',
      ),
      memory('Gloves that suit the resin; only what has cured goes into the waste.', 'the data sheet of the resin'),
    ],
    bodies: ['OSHA and state bulletins', 'HSE'],
  },
  height: {
    id: 'height',
    title: 'Ladders and work at height',
    line: 'Not alone; sure footing, and nobody below.',
    facts: [
      practice('Nobody works at height alone.'),
      practice('Footing, hands free, tools on a line, and the area below kept clear.'),
    ],
    bodies: ['HSE', 'OSHA'],
  },
  overhead: {
    id: 'overhead',
    title: 'Things hung above people',
    line: 'Rated hardware, a second attachment, and the signature before anybody walks below.',
    facts: [
      published(
        'A factor of 5 to 1 is commonly quoted as the least for rigging hardware.',
        'texts on rigging that quote it',
      ),
      memory('Over people entertainment rigging asks for 8 to 1 or 10 to 1.', 'ANSI and ESTA, DGUV'),
      memory('Rated hardware, a second attachment, and a qualified person who signs for it.', 'LOLER, DGUV'),
    ],
    bodies: ['LOLER', 'ANSI and ESTA', 'DGUV', "the venue's rigger"],
  },
  lifting: {
    id: 'lifting',
    title: 'Lifting',
    line: 'Know the weight, who lifts, and the way.',
    facts: [
      practice('Weigh it before the day, say who lifts, and clear the way it is carried.'),
      memory(
        'What is safe depends on reach, height and how often, not on weight alone.',
        'HSE on manual handling, the NIOSH lifting equation',
      ),
    ],
    bodies: ['HSE (manual handling)', 'NIOSH (lifting equation)'],
  },
  fumes: {
    id: 'fumes',
    title: 'Fumes of printing and hot plastics',
    line: 'Air moving or the enclosure shut; do not sit beside it.',
    facts: [
      memory(
        'Printing and heating plastics give off vapours and very fine particles, some plastics far more than others.',
        'NIOSH on 3D printing',
      ),
      memory(
        'An enclosure with a filter or an extract outdoors, and nobody beside it for hours.',
        'NIOSH on 3D printing',
      ),
      memory('PVC is not heated: it gives off hydrogen chloride.', 'the data sheet of PVC'),
    ],
    bodies: ['NIOSH', 'HSE', 'the data sheet of the plastic'],
  },
  noise: {
    id: 'noise',
    title: 'Noise',
    line: 'Ears covered, those of everybody in the room.',
    facts: [
      memory(
        'UK action values over an 8 hour day are 80 and 85 dB(A); NIOSH recommends at most 85 dB(A).',
        'HSE on noise at work, NIOSH',
      ),
      practice('If you must raise your voice at arm’s length, it is loud enough to hurt in the long run.'),
    ],
    bodies: ['HSE (noise at work)', 'OSHA', 'NIOSH'],
  },
  'moving-parts': {
    id: 'moving-parts',
    title: 'Moving parts, and fingers of the public',
    line: 'Stop it before you reach in; nothing that a child’s finger reaches may pinch.',
    facts: [
      practice(
        'Where there is a gap there will be fingers: guard it, cover it, or let it be too slow and weak to hurt.',
      ),
      memory('Standards of machinery give reaches and gaps: ISO 13857 and ISO 13854.', 'ISO 13857, ISO 13854'),
      practice('A stop that everybody finds, within reach of whoever looks after it.'),
    ],
    bodies: ['ISO 12100', 'ISO 13857', 'ISO 13854', 'the venue'],
  },
  pressure: {
    id: 'pressure',
    title: 'Compressed air',
    line: 'Eyes and ears covered; let the pressure out before you uncouple.',
    facts: [
      memory('Never at skin, eyes or clothes: air can enter the body.', 'HSE, HSG39'),
      memory('For cleaning, the US allows less than 30 psi at the nozzle (29 CFR 1910.242).', 'OSHA'),
      practice('Shut off and emptied when nobody is there.'),
    ],
    bodies: ['OSHA', 'HSE'],
  },
  glass: {
    id: 'glass',
    title: 'Glass and sharp edges',
    line: 'Gloves and eyes covered; carry on edge, two to a pane.',
    facts: [
      practice('Break or grind every edge that a hand will meet, at the bench and at the show.'),
      memory(
        'Where people can fall against it, safety glass: EN 12600 and ANSI Z97.1 class it.',
        'EN 12600, ANSI Z97.1',
      ),
    ],
    bodies: ['EN 12600', 'ANSI Z97.1', 'HSE', 'the venue'],
  },
  'solvent-rags': {
    id: 'solvent-rags',
    title: 'Rags with oil or solvent',
    line: 'No heap of rags: flat outdoors, or in water in a metal can with a lid.',
    facts: [
      memory('Rags with linseed and other drying oils heat by themselves and can burn hours later.', 'NFPA'),
      memory(
        'Spread flat outdoors until stiff, or under water in a metal can with a lid, never in a heap or a bag.',
        'NFPA',
      ),
    ],
    bodies: ['NFPA', 'OSHA', 'the local fire service'],
  },
  'outdoor-mains': {
    id: 'outdoor-mains',
    title: 'Temporary power outdoors',
    line: 'Connectors off the ground and under cover; look again after rain, before it is switched on.',
    facts: [
      memory(
        'A residual current device (RCD, GFCI) of 30 mA or less before everything that people can touch.',
        'IEC 60364-7-711 and 7-740',
      ),
      memory('Housings and connectors for rain (IP44 at least), cables off the ways.', 'IEC 60364-7-740'),
      memory('Temporary supplies have rules of their own, and somebody competent signs for them.', 'BS 7909, NFPA 70'),
    ],
    bodies: ['IEC 60364-7-711 and 7-740', 'BS 7909', 'NFPA 70', 'the venue'],
  },
  isocyanates: {
    id: 'isocyanates',
    title: 'Two-pack coatings with isocyanates',
    line: 'Fed air when you spray, gloves on, nobody else in the room until it has cured.',
    facts: [
      memory('A leading cause of asthma from work; once sensitised, a trace is enough.', 'HSE'),
      memory('When it is sprayed a filter mask is not enough: breathing air is fed.', 'HSE'),
      memory(
        'In the EU whoever uses it at work needs training first (REACH, since August 2023).',
        'REACH, annex XVII, entry 74',
      ),
    ],
    bodies: ['HSE', 'ECHA (REACH)', 'OSHA', 'NIOSH'],
  },
  driving: {
    id: 'driving',
    title: 'Driving tired',
    line: 'Somebody who has slept drives.',
    facts: [
      practice('The night before the load-in is slept, or somebody else drives.'),
      memory('UK advice: a break of 15 minutes after every two hours at the wheel.', 'the Highway Code, rule 91'),
      practice('Weigh the load, tie it down, and know what the van may carry.'),
    ],
    bodies: ['the Highway Code', 'NHTSA', 'the insurer of the van'],
  },
  'public-decor': {
    id: 'public-decor',
    title: 'Decor where the public comes',
    line: 'Ask the venue for the flame certificate that it wants before the material is bought.',
    facts: [
      published(
        'Venues ask for a flame certificate of the maker or a third party; ask them before the material is bought.',
        'the fire rules of a US city',
      ),
      published(
        'One US city takes certificates for a year and none for material that the maker treated.',
        'the fire rules of that city',
      ),
      published(
        'One US campus takes treated decor on no more than a tenth of wall and ceiling.',
        'the fire rules of that campus',
      ),
    ],
    bodies: ['NFPA 701', 'EN 13501-1', 'DIN 4102', 'the fire marshal'],
  },
});

/** Shown wherever the plan leans on nights or long weeks. */
export const TIRED_HANDS: Caution = worded({
  id: 'tired-hands',
  title: 'Tired hands',
  line: 'Rest first: nothing dangerous at night or at the end of a long shift.',
  facts: [
    published(
      'Guidance asks to keep demanding, dangerous or safety-critical work out of the night and the end of long shifts.',
      'HSE, HSG256',
    ),
    published('Between 02:00 and 06:00 the risk of mistakes is highest.', 'a text that quotes HSE, HSG256'),
    published(
      'For employed workers in the EU: 11 hours of rest in 24, an average week of 48 hours at most.',
      'Directive 2003/88/EC, official summary',
    ),
    memory('Shifts of 12 hours at most, no more than 2 or 3 nights in a row, no start before 07:00.', 'HSE, HSG256'),
  ],
  bodies: ['Directive 2003/88/EC', 'HSE (HSG256)'],
});
