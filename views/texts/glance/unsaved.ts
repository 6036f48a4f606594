/** What is said of forms that were left before they were saved. */
export const unsavedTexts = {
  left: 'Typed and not saved yet:',
};
