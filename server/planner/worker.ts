/** What a thread of the background runs (see `background.ts`). */
import { setPriority } from 'node:os';
import { threadId } from 'node:worker_threads';

export { attributeRoom } from '../engine/index.ts';
export { computeTask as default } from './compute.ts';

/** On Linux this is of the calling thread alone: a search never holds up the thread that answers taps. */
const BEHIND_OTHERS = 10;
if (process.platform === 'linux' && threadId !== 0) setPriority(0, BEHIND_OTHERS);
