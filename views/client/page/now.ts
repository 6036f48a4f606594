/**
 * Keeps the Now sheet right while it stays open and when it is opened from its copy with no network: what is to be seen
 * at which times is in the page, and this looks at the clock.
 */
import { keepCopy } from '../copy/count-copy.ts';

const LOOK_EVERY_MS = 20_000;
const KEEP_EVERY_MS = 60_000;
/** A clock that is behind by less is as good as right. */
const BEHIND_MINUTES = 10;
const OFFSET = 'daywright-clock-offset';

/** The laptop's lead over the phone's clock in milliseconds, as it was heard last. */
let offsetMs = Number(localStorage.getItem(OFFSET) ?? 0) || 0;
let keptAt = 0;

/**
 * The time in minutes. A clock that is behind the plan that it shows is wrong, and what the plan knows is later: then
 * the sheet is as it was drawn, and says so.
 */
function look(): void {
  const drawn = document.querySelector<HTMLElement>('[data-drawn]');
  const [clock, least] = [(Date.now() + offsetMs) / 60_000, Number(drawn?.dataset.drawn ?? 0)];
  if (drawn !== null) drawn.hidden = clock > least - BEHIND_MINUTES;
  const now = Math.max(clock, least);
  for (const element of document.querySelectorAll<HTMLElement>('[data-shown]')) {
    const spans = (element.dataset.shown ?? '').split(' ').filter((span) => span !== '');
    element.hidden = !spans.some((span) => {
      const [from, to] = span.split('-').map(Number);
      return from! <= now && now < to!;
    });
  }
}

/** Answers carry the laptop's time to the second; a failure leaves what was heard before. */
async function hearTheTime(): Promise<void> {
  try {
    const { headers } = await fetch('/assets/tokens.css', { method: 'HEAD', cache: 'no-store' });
    const heard = Date.parse(headers.get('date') ?? '');
    if (Number.isNaN(heard)) return;
    offsetMs = heard - Date.now();
    localStorage.setItem(OFFSET, String(offsetMs));
  } catch {
    return;
  }
}

async function keep(): Promise<void> {
  if (Date.now() - keptAt < KEEP_EVERY_MS) return;
  keptAt = Date.now();
  await keepCopy();
}

document.addEventListener('htmx:after:swap', () => {
  look();
  void keep();
});
document.addEventListener('visibilitychange', look);
setInterval(look, LOOK_EVERY_MS);
// What the server drew stays until its time is heard, or cannot be.
void hearTheTime().finally(look);
addEventListener('load', () => void keep());
