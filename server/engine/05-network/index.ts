/** In what order it can be done: lots and links as a checked network. */

/** Lots and links as a checked directed graph, laid flat for the passes that run over it thousands of times. */
export { FINISH_FINISH, FINISH_START, type Network, networkOf, START_FINISH, START_START } from './network.ts';

/** Lots and links without the feeds that would close a circle. */
export { untangledWork } from './untangled-work.ts';
