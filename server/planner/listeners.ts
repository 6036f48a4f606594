/** Who wants to hear of changes to builds. */
import type { Changed } from './types.ts';

type Listener = (id: string, what: Changed) => void;

export interface Listeners {
  /** Tells all of them; one that fails keeps the others from nothing. */
  tell(id: string, what: Changed): void;
  /** Listens until what this returns is called. */
  add(listener: Listener): () => void;
}

/** Nobody listens yet. */
export function createListeners(report: (error: unknown) => void): Listeners {
  const listeners = new Set<Listener>();
  return {
    tell: (id, what) => {
      for (const listener of listeners) {
        try {
          listener(id, what);
        } catch (error) {
          report(error);
        }
      }
    },
    add: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}
