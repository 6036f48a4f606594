/** How threads are started, and how each says which of the system's it is. */
import { readlinkSync } from 'node:fs';

/** What a thread is started with: TypeScript needs a loader. */
export function flagsOf(worker: URL): string[] {
  return worker.pathname.endsWith('.ts') ? ['--import', 'tsx'] : [];
}

/** The number of the calling thread in the system; 0 where the system does not say. */
export function numberOfThread(): number {
  try {
    return Number(/\d+$/.exec(readlinkSync('/proc/thread-self'))?.[0] ?? 0);
  } catch {
    return 0;
  }
}
