/** Hazards that a step probably has, by the words in its name and in the name of its machine. */
import { HAZARDS, type Hazard, type HazardGuess } from '../../step.ts';

/** How the words of a kind of work are known; common practice, no source. English, as the demo is. */
const KINDS: readonly { readonly words: RegExp; readonly hazards: readonly Hazard[] }[] = [
  { words: wordsOf('saw|cut|mill|rout|route|drill|turn|lathe|plane'), hazards: ['blades', 'dust', 'noise'] },
  { words: wordsOf('sand'), hazards: ['dust'] },
  { words: wordsOf('print'), hazards: ['fumes'] },
  { words: wordsOf('spray|paint|varnish|lacquer|prime'), hazards: ['spray'] },
  { words: wordsOf('weld|grind|braze|torch'), hazards: ['hot-work'] },
  { words: wordsOf('solder'), hazards: ['fumes'] },
  { words: wordsOf('epoxy|resin|cast|laminate'), hazards: ['resins'] },
  { words: wordsOf('hang|rig'), hazards: ['overhead', 'height', 'lifting'] },
  { words: wordsOf('ladder|scaffold'), hazards: ['height'] },
  { words: wordsOf('wire|wiring|mains'), hazards: ['mains'] },
  { words: wordsOf('generator'), hazards: ['outdoor-mains'] },
  { words: wordsOf('battery|batteries|charge'), hazards: ['batteries'] },
  { words: wordsOf('laser'), hazards: ['lasers', 'fumes'] },
  { words: wordsOf('compressor|sandblast|airbrush'), hazards: ['pressure'] },
  { words: wordsOf('glass|mirror'), hazards: ['glass'] },
  { words: wordsOf('oil|linseed'), hazards: ['solvent-rags'] },
  { words: wordsOf('isocyanate|polyurethane|two-pack'), hazards: ['isocyanates'] },
  { words: wordsOf('drive|van|truck|lorry'), hazards: ['driving'] },
  { words: wordsOf('pack|load'), hazards: ['lifting'] },
];

/**
 * The hazards that a step called `name`, done on machines of these names, probably has: each once, in the order of
 * `HAZARDS`, with where the word is. What is cut by a laser has no blade. O(words).
 *
 *     hazardGuesses('solder the eyes', []) // [{ hazard: 'fumes', from: 'name' }]
 *     hazardGuesses('fins', ['Laser cutter']).map(({ hazard }) => hazard) // ['lasers', 'fumes']
 */
export function hazardGuesses(name: string, machines: readonly string[]): HazardGuess[] {
  const inName = hazardsIn(name);
  const inMachines = new Set(machines.flatMap((machine) => [...hazardsIn(machine)]));
  const isLaser = inName.has('lasers') || inMachines.has('lasers');
  return HAZARDS.flatMap((hazard): HazardGuess[] => {
    if (isLaser && NOT_BY_LASER.includes(hazard)) return [];
    if (inName.has(hazard)) return [{ hazard, from: 'name' }];
    return inMachines.has(hazard) ? [{ hazard, from: 'machine' }] : [];
  });
}

const NOT_BY_LASER: readonly Hazard[] = ['blades', 'dust', 'noise'];

function hazardsIn(text: string): Set<Hazard> {
  return new Set(KINDS.filter(({ words }) => words.test(text)).flatMap(({ hazards }) => hazards));
}

/** Whole words, with the usual endings: cut, cuts, cutting, cutter; but castle is no cast, and right no rig. */
function wordsOf(stems: string): RegExp {
  const endings = stems
    .split('|')
    .map((stem) => `${stem.replace(/e$/, 'e?')}(?:${stem.at(-1)}?(?:s|d|ed|er|ers|ing))?`);
  return new RegExp(`\\b(?:${endings.join('|')})\\b`, 'i');
}
