/** Buttons that copy what a field holds. Without this script there are none, and the field can still be selected. */
for (const button of document.querySelectorAll<HTMLButtonElement>('button[data-copies]')) {
  const field = document.getElementById(button.dataset.copies!) as HTMLInputElement;
  const told = document.getElementById(`${field.id}-copied`)!;
  button.hidden = false;
  button.addEventListener('click', async () => {
    told.textContent = (await copied(field)) ? told.dataset.copied! : told.dataset.selected!;
  });
}

/** Whether it was copied. Over plain http a browser has no clipboard to write to, but still copies what is selected. */
async function copied(field: HTMLInputElement): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    field.select();
    return document.execCommand('copy');
  }
}
