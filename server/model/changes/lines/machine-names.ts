/** Machines that a line may name before the build has them; common practice, no source. English, as lines are. */
import { capital } from './name-words.ts';

/** Those at which somebody stays. */
export const TOOLS = [
  /(?:band|table|panel|mitre|miter|chop|scroll|circular)[ -]?saw|saw bench|lathe|pillar drill|bench grinder/,
  /(?:drill|pillar|arbor|heat|fly|hydraulic) press|(?:belt|disc|drum) sander|planer|thicknesser|spindle moulder/,
  /sewing machine|overlocker|serger|knitting machine|loom|welder|plasma cutter|vac(?:uum)? former|guillotine/,
]
  .map(({ source }) => source)
  .join('|');
const OTHERS = /(?:3d )?printer|laser(?: cutter)?|cnc(?: mill| router)?|mill|router|kiln|oven|furnace|plotter/.source;
const NAMED = new RegExp(`\\b(?:on|in|to|with) (?:the|an?|our|my) (${OTHERS}|${TOOLS})\\b|\\b(?:on|in) (${OTHERS})\\b`);

/** A machine that is named behind `on` or `in`, whether or not the build has it: where it is, and its name. */
export function machineNamed(text: string): { readonly whole: string; readonly name: string } | null {
  const said = NAMED.exec(text);
  return said === null ? null : { whole: said[0], name: capital((said[1] ?? said[2])!) };
}
