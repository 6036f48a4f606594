/** Before the tests that open a browser: it is unpacked once, since two of them at a time would unpack into each other. */
import { chromiumPath } from './browser.ts';

export default async function setup(): Promise<void> {
  await chromiumPath();
}
