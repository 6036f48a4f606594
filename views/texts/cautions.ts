/**
 * The usual cautions where a step carries a hazard. The tool points to who publishes the rules; it does not instruct.
 *
 * Each fact says on what it rests: `published` (read at the body named or in a text that quotes it), `memory` (widely
 * published, not read again for this table) or `practice` (common practice, no source).
 */
import { HAZARDS, type Hazard } from '../../server/model/step.ts';

export const CAUTION_FOOTER = 'General information. Local codes, the venue and licensed people decide.';

export type CautionBasis = 'published' | 'memory' | 'practice';

export interface CautionFact {
  readonly text: string;
  readonly basis: CautionBasis;
}

export interface Caution {
  readonly id: Hazard | 'tired-hands' | 'public-decor';
  readonly title: string;
  readonly facts: readonly CautionFact[];
  /** Who publishes rules or guidance on it. */
  readonly bodies: readonly string[];
}

/** The cautions for the hazards named, each once, in the order of the table. */
export function cautionsFor(hazards: Iterable<Hazard>): Caution[] {
  const named = new Set(hazards);
  return HAZARDS.filter((hazard) => named.has(hazard)).map((hazard) => CAUTIONS[hazard]);
}

const published = (text: string): CautionFact => ({ text, basis: 'published' });
const memory = (text: string): CautionFact => ({ text, basis: 'memory' });
const practice = (text: string): CautionFact => ({ text, basis: 'practice' });

/** One entry for every hazard a step can carry. */
export const CAUTIONS: Readonly<Record<Hazard, Caution>> = {
  dust: {
    id: 'dust',
    title: 'Wood and board dust',
    facts: [
      published('UK limits over an 8 hour day: 3 mg/m³ for hardwood dust, 5 mg/m³ for softwood dust.'),
      published('Hardwood dust can cause cancer; board dust counts with it.'),
      memory('Extract at the tool, wear a mask as well, and vacuum rather than sweep.'),
    ],
    bodies: ['HSE (EH40 and its woodworking sheets)', 'OSHA', 'NIOSH'],
  },
  spray: {
    id: 'spray',
    title: 'Spray paint and solvents',
    facts: [
      published('The mist burns: air moving, and nothing nearby that can light it.'),
      published('Spraying has rules of its own, in the US 29 CFR 1910.107 and NFPA 33.'),
    ],
    bodies: ['OSHA', 'NFPA', 'HSE'],
  },
  blades: {
    id: 'blades',
    title: 'Blades and bits',
    facts: [
      published('Guidance on fatigue asks that dangerous work stays out of the night and the end of long shifts.'),
      practice('Guard on, loose sleeves and gloves off, and the plug out before a blade is changed.'),
    ],
    bodies: ['HSE (HSG256 on fatigue, woodworking sheets)', 'OSHA'],
  },
  mains: {
    id: 'mains',
    title: 'Mains electricity',
    facts: [
      memory('In many places only a licensed person may do it, and the venue inspects it.'),
      memory('A residual current device (RCD, GFCI) belongs in front of everything that people can touch.'),
    ],
    bodies: ['IEC 60364', 'NFPA 70', 'BS 7671', 'the local authority'],
  },
  batteries: {
    id: 'batteries',
    title: 'Lithium cells',
    facts: [
      memory('Protected packs and the charger made for them; never left charging unattended.'),
      memory('Transport has rules of its own: UN 38.3 tests, UN 3480 for cells sent by themselves.'),
    ],
    bodies: ['NFPA', 'OSHA', 'ICAO and IATA', 'the local fire service'],
  },
  'hot-work': {
    id: 'hot-work',
    title: 'Hot work',
    facts: [
      memory('Welding, grinding and open flame usually need a permit in a venue.'),
      practice('Clear what burns, keep an extinguisher at hand, and watch the place after the last spark.'),
    ],
    bodies: ['NFPA 51B', 'HSE', 'the venue and its fire officer'],
  },
  lasers: {
    id: 'lasers',
    title: 'Laser cutter',
    facts: [
      memory('It never runs without somebody watching it.'),
      memory('No PVC: it gives off chlorine compounds that harm people and machine.'),
    ],
    bodies: ['IEC 60825-1', 'ANSI Z136'],
  },
  resins: {
    id: 'resins',
    title: 'Resins',
    facts: [
      published('Epoxy: keep it off the skin and the air moving; sensitisation does not go away.'),
      memory('Gloves that suit the resin; only what has cured goes into the waste.'),
    ],
    bodies: ['OSHA and state bulletins', 'HSE'],
  },
  height: {
    id: 'height',
    title: 'Ladders and work at height',
    facts: [
      practice('Nobody works at height alone.'),
      practice('Footing, hands free, tools on a line, and the area below kept clear.'),
    ],
    bodies: ['HSE', 'OSHA'],
  },
  overhead: {
    id: 'overhead',
    title: 'Things hung above people',
    facts: [
      published('A factor of 5 to 1 is commonly quoted as the least for rigging hardware.'),
      memory('Over people entertainment rigging asks for 8 to 1 or 10 to 1.'),
      memory('Rated hardware, a second attachment, and a qualified person who signs for it.'),
    ],
    bodies: ['LOLER', 'ANSI and ESTA', 'DGUV', "the venue's rigger"],
  },
  lifting: {
    id: 'lifting',
    title: 'Lifting',
    facts: [
      practice('Weigh it before the day, say who lifts, and clear the way it is carried.'),
      memory('What is safe depends on reach, height and how often, not on weight alone.'),
    ],
    bodies: ['HSE (manual handling)', 'NIOSH (lifting equation)'],
  },
};

/** Shown wherever the plan leans on nights or long weeks. */
export const TIRED_HANDS: Caution = {
  id: 'tired-hands',
  title: 'Tired hands',
  facts: [
    published(
      'Guidance asks to keep demanding, dangerous or safety-critical work out of the night and the end of long shifts.',
    ),
    published('Between 02:00 and 06:00 the risk of mistakes is highest.'),
    published('For employed workers in the EU: 11 hours of rest in 24, an average week of 48 hours at most.'),
    memory('Shifts of 12 hours at most, no more than 2 or 3 nights in a row, no start before 07:00.'),
  ],
  bodies: ['Directive 2003/88/EC', 'HSE (HSG256)'],
};

/** Shown for anything that stands where the public comes. */
export const PUBLIC_DECOR: Caution = {
  id: 'public-decor',
  title: 'Decor where the public comes',
  facts: [
    published(
      'Venues ask for a flame certificate of the maker or a third party; ask them before the material is bought.',
    ),
    published('One US city takes certificates for a year and none for material that the maker treated.'),
    published('One US campus takes treated decor on no more than a tenth of wall and ceiling.'),
  ],
  bodies: ['NFPA 701', 'EN 13501-1', 'DIN 4102', 'the fire marshal'],
};
