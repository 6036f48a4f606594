/**
 * Loaded into a server before it starts (`node --import`): measures how long the thread that answers requests is held,
 * and says so where it is asked over the channel to its parent. `hold` is by the clock, `busy` is what this thread
 * itself worked in one such time, whatever else the machine did; both in milliseconds, the longest since the last time.
 */
import { readFileSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';

const EVERY = 5;

if (isMainThread && process.send) {
  let [hold, busy] = [0, 0];
  let [at, worked] = [performance.now(), workedMilliseconds()];
  const beat = () => {
    const [now, all] = [performance.now(), workedMilliseconds()];
    hold = Math.max(hold, now - at - EVERY);
    busy = Math.max(busy, all - worked);
    [at, worked] = [now, all];
  };
  setInterval(beat, EVERY).unref();
  process.on('message', () => {
    const { rss, heapUsed } = process.memoryUsage();
    const { user, system } = process.cpuUsage();
    process.send({ hold, busy, processor: (user + system) / 1000, rss: rss / 2 ** 20, heap: heapUsed / 2 ** 20 });
    [hold, busy] = [0, 0];
  });
  process.channel?.unref();
}

/** Of this thread alone; where the system does not say, the clock. */
function workedMilliseconds() {
  try {
    return Number(readFileSync(`/proc/self/task/${process.pid}/schedstat`, 'latin1').split(' ')[0]) / 1e6;
  } catch {
    return performance.now();
  }
}
