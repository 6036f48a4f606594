/** Who looks at which build: pages that are open, and when somebody last asked. */

export interface Looks {
  /** Somebody asked about the build just now. */
  at(id: string): void;
  /** A page of it is open until what this returns is called. */
  open(id: string): () => void;
  /** Builds that anybody ever asked about and that were not forgotten. */
  ids(): string[];
  /** 0 while a page is open. */
  minutesSince(id: string): number;
  forget(id: string): void;
}

/** Nobody has looked yet. `now` in minutes since the epoch. */
export function createLooks(now: () => number): Looks {
  const open = new Map<string, number>();
  const last = new Map<string, number>();
  const at = (id: string): void => void last.set(id, now());
  return {
    at,
    open: (id) => {
      let isOpen = true;
      at(id);
      open.set(id, (open.get(id) ?? 0) + 1);
      return () => {
        if (!isOpen) return;
        isOpen = false;
        at(id);
        open.set(id, open.get(id)! - 1);
      };
    },
    ids: () => [...last.keys()],
    minutesSince: (id) => ((open.get(id) ?? 0) > 0 ? 0 : now() - (last.get(id) ?? 0)),
    forget: (id) => void last.delete(id),
  };
}
