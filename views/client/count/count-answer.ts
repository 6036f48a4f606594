/** How a tap is answered to somebody who does not look: a buzz, a tone; and the screen kept awake meanwhile. */

type Answer = 'counted' | 'refused' | 'time';

const BUZZ: Readonly<Record<Answer, number[]>> = {
  counted: [35],
  refused: [80, 60, 80, 60, 80],
  time: [200, 100, 200],
};
const HERTZ: Readonly<Record<Answer, number>> = { counted: 880, refused: 196, time: 587 };

let audio: AudioContext | null = null;

/** Buzzes where the phone can, and sounds if asked to. Never throws: a tap that is kept counts, heard or not. */
export function answer(what: Answer, sound: boolean): void {
  try {
    navigator.vibrate?.(BUZZ[what]);
    if (sound) tone(HERTZ[what], what === 'counted' ? 0.07 : 0.35);
  } catch {
    // A browser that neither buzzes nor sounds; the page shows the number.
  }
}

/** Keeps the screen awake; false where the browser does not allow it (over plain HTTP none does). */
export async function keepAwake(): Promise<boolean> {
  if (!('wakeLock' in navigator)) return false;
  if (lock !== null && !lock.released) return true;
  try {
    lock = await navigator.wakeLock.request('screen');
    return true;
  } catch {
    return false;
  }
}

export async function letSleep(): Promise<void> {
  await lock?.release().catch(() => {});
  lock = null;
}

let lock: WakeLockSentinel | null = null;

function tone(hertz: number, seconds: number): void {
  audio ??= new AudioContext();
  if (audio.state === 'suspended') void audio.resume().catch(() => {});
  const oscillator = audio.createOscillator();
  const volume = audio.createGain();
  oscillator.frequency.value = hertz;
  volume.gain.setValueAtTime(0.2, audio.currentTime);
  volume.gain.exponentialRampToValueAtTime(0.001, audio.currentTime + seconds);
  oscillator.connect(volume).connect(audio.destination);
  oscillator.start();
  oscillator.stop(audio.currentTime + seconds);
}
