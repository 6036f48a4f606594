/** The last days: what is carried to the site, whether it fits, who does what there, and what could stop the show. */

/** The show of a planned build. */
export { showAnswer } from './show.ts';
/** What is wrong with its boxes, ways, points and jobs. */
export { showProblems } from './show-problems.ts';
