/**
 * Keeps the Now sheet right while it stays open and when it is opened from its copy with no network: what is to be seen
 * at which times is in the page, and this looks at the clock.
 */
import { keepCopy } from '../copy/count-copy.ts';

const LOOK_EVERY_MS = 20_000;
const KEEP_EVERY_MS = 60_000;
const OFFSET = 'daywright-clock-offset';

/** The laptop's lead over the phone's clock in milliseconds, as it was heard last. */
let offsetMs = Number(localStorage.getItem(OFFSET) ?? 0) || 0;
let keptAt = 0;

function look(): void {
  const now = (Date.now() + offsetMs) / 60_000;
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
    look();
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
look();
void hearTheTime();
addEventListener('load', () => void keep());
