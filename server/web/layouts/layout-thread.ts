/** What the thread of `layouts.ts` runs: each picture that it is given is answered under its number. */
import { parentPort } from 'node:worker_threads';
import { waitsLayout } from '../../../views/pictures/waits-layout.ts';
import type { LaidOut, Numbered } from './layouts.ts';

parentPort?.on('message', ({ number, asked }: Numbered) => {
  const answer: LaidOut = { number, layout: waitsLayout(asked) };
  parentPort!.postMessage(answer);
});
