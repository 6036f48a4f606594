/** What a thread of the background runs (see `background.ts`). */
export { computeTask as default } from './compute.ts';
