/** What the thread of `layouts.ts` runs. */
export { waitsLayout as default } from '../../views/pictures/waits-layout.ts';
