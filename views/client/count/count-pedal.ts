/** Pedal count: any key of a clicker, a foot pedal or a volume remote is one press, however its contacts chatter. */

/** A contact that closes again so soon after it closed is the same press. */
const BOUNCE_MS = 80;
/** So soon after it opened, too. */
const RELEASE_MS = 40;
/** Some phones do not mark the repeats of a key that is held: they follow each other faster than this. */
const REPEAT_MS = 700;

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

interface Pedal {
  /** A key went down. `press`: one more; `held`: part of a press already counted; `other`: not the pedal's. */
  down(key: PedalKey): 'press' | 'held' | 'other';
  up(key: Pick<PedalKey, 'key' | 'timeStamp'>): void;
}

/** Tells presses from bounces and from the repeats of a key that is held down. */
export function createPedal(): Pedal {
  let closedAt = Number.NEGATIVE_INFINITY;
  let openedAt = Number.NEGATIVE_INFINITY;
  /** The key that is down, and when it last said so; only of keys that are known to say when they are let go. */
  let down: { readonly key: string; readonly at: number } | null = null;
  const letGo = new Set<string>();
  return {
    down: (key) => {
      if (NOT_A_PEDAL.has(key.key) || key.ctrlKey || key.altKey || key.metaKey) return 'other';
      const held = key.repeat || (down?.key === key.key && key.timeStamp - down.at < REPEAT_MS);
      down = letGo.has(key.key) ? { key: key.key, at: key.timeStamp } : null;
      if (held) return 'held';
      const bounce = key.timeStamp - closedAt < BOUNCE_MS || key.timeStamp - openedAt < RELEASE_MS;
      if (!bounce) closedAt = key.timeStamp;
      return bounce ? 'held' : 'press';
    },
    up: (key) => {
      if (NOT_A_PEDAL.has(key.key)) return;
      openedAt = key.timeStamp;
      letGo.add(key.key);
      if (down?.key === key.key) down = null;
    },
  };
}
