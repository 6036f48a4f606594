/** Whoever waits for the forecast of a build is woken when one is shown or has failed. */

export interface Waiting {
  wake(id: string): void;
  /** Until `isOver` is true when it is woken, or `longest` milliseconds have passed. */
  until(id: string, longest: number, isOver: () => boolean): Promise<void>;
}

/** Nobody waits yet. */
export function createWaiting(): Waiting {
  const waiting = new Map<string, Set<() => void>>();
  return {
    wake: (id) => {
      for (const look of waiting.get(id) ?? []) look();
    },
    until: (id, longest, isOver) =>
      new Promise((resolve) => {
        const end = (): void => {
          clearTimeout(timer);
          waiting.get(id)?.delete(look);
          resolve();
        };
        const look = (): void => {
          if (isOver()) end();
        };
        const timer = setTimeout(end, longest);
        waiting.set(id, (waiting.get(id) ?? new Set()).add(look));
      }),
  };
}
