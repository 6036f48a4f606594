/**
 * Words of work, by which a line that was dictated without commas is parted, and which are no supplier; common
 * practice, no source. English, as lines are.
 */

const STEMS = [
  'assemble|bake|bend|bind|bolt|braze|calibrate|carve|cast|clamp|clean|countersink|crate|crease|crimp|cut|deburr',
  'demould|demold|drill|dye|engrave|file|finish|fit|fix|flash|fold|glaze|glue|grind|hang|hem|install|iron|join|knot',
  'label|lacquer|load|mask|mill|mold|mould|mount|nail|oil|pack|paint|plane|polish|populate|pour|press|prime|print',
  'punch|rip|rivet|rout|route|sand|saw|score|screw|sculpt|seal|sew|solder|spray|stain|stitch|string|strip|stuff|test',
  'thread|trim|turn|upholster|varnish|wash|wax|weave|weld|wire|wrap|laser|knit|crochet|embroider|tie|check|inspect',
].join('|');
const WAITS = 'dry|dries|drying|cure|cures|curing|soak|soaks|soaking|cool|cools|cooling|harden|hardens|hardening';
const KINDS = 'screen|spray|hand|machine|tig|mig|spot|laser|cnc|wet|hot|dry|block|pre|3d';
const BEHIND = '(?: (?:up|in|on|out|off|down|together|them|it|all))*';

/** A word of work with its endings, the kind before it and the little words behind: `screen print`, `wire up`. */
export const WORK_PHRASE = `(?:(?:${KINDS})[ -])?(?:${withEndings(STEMS)}|${WAITS})${BEHIND}`;

const IS_WORK = new RegExp(`^${WORK_PHRASE}$`, 'i');

/**
 * Whether words say nothing but work.
 *
 *     isWork('screen printing') // true
 *     isWork('powder coat') // false
 */
export function isWork(words: string): boolean {
  return IS_WORK.test(words.trim());
}

function withEndings(stems: string): string {
  return stems
    .split('|')
    .map((stem) => `${stem.replace(/e$/, 'e?')}(?:${stem.at(-1)}?(?:s|es|d|ed|ing))?`)
    .join('|');
}
