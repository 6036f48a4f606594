/** Pedal count: any key of a clicker, a foot pedal or a volume remote is one press, however its contacts chatter. */

/** A contact that closes again so soon after it closed is the same press. */
const BOUNCE_MS = 80;
/** So soon after it opened, too. */
const RELEASE_MS = 40;

/** Keys that stay what they are: the way out of pedal count and around the page, and those that only modify others. */
const NOT_A_PEDAL = new Set([
  'Escape',
  'Tab',
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'NumLock',
  'Fn',
]);

export interface PedalKey {
  readonly key: string;
  readonly repeat: boolean;
  /** Milliseconds on any clock that only runs forward. */
  readonly timeStamp: number;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
}

export interface Pedal {
  /** A key went down. `press`: one more; `held`: part of a press already counted; `other`: not the pedal's. */
  down(key: PedalKey): 'press' | 'held' | 'other';
  up(key: Pick<PedalKey, 'key' | 'timeStamp'>): void;
}

/** Tells presses from bounces and from the repeats of a key that is held down. */
export function createPedal(): Pedal {
  let closedAt = Number.NEGATIVE_INFINITY;
  let openedAt = Number.NEGATIVE_INFINITY;
  return {
    down: (key) => {
      if (NOT_A_PEDAL.has(key.key) || key.ctrlKey || key.altKey || key.metaKey) return 'other';
      if (key.repeat) return 'held';
      const bounce = key.timeStamp - closedAt < BOUNCE_MS || key.timeStamp - openedAt < RELEASE_MS;
      if (!bounce) closedAt = key.timeStamp;
      return bounce ? 'held' : 'press';
    },
    up: (key) => {
      if (!NOT_A_PEDAL.has(key.key)) openedAt = key.timeStamp;
    },
  };
}
