/** Draws hours of a week: a finger or a pen that moves over them ticks them, or unticks them, as the first one went. */

let draws: boolean | null = null;
let first: HTMLInputElement | null = null;
/** The last box that was drawn over. */
let drawn: HTMLInputElement | null = null;

function boxAt({ clientX, clientY }: PointerEvent): HTMLInputElement | null {
  const label = document.elementFromPoint(clientX, clientY)?.closest('.week-day label');
  return label?.querySelector('input') ?? null;
}

document.addEventListener('pointerdown', (event) => {
  first = boxAt(event);
  draws = first === null ? null : !first.checked;
});

document.addEventListener('pointermove', (event) => {
  if (draws === null) return;
  const box = boxAt(event);
  if (box === null || (box === first && first !== null)) return;
  // The press itself ticks its own box unless the finger has moved on.
  if (first !== null) first.checked = draws;
  first = null;
  box.checked = draws;
  drawn = box;
});

/** What scripts tick tells nobody by itself; whoever keeps what is typed hears of it here. */
function end(): void {
  drawn?.dispatchEvent(new Event('input', { bubbles: true }));
  draws = null;
  drawn = null;
}
addEventListener('pointerup', end);
addEventListener('pointercancel', end);
