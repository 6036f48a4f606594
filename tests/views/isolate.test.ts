import { describe, expect, it } from 'vitest';
import { isolatedText, isolateRuns } from '../../views/isolate.ts';

const [FSI, PDI] = ['\u2068', '\u2069'];
const POLE = 'מוט 12 ס&quot;מ';
const BEAM = 'عارضة خشبية';

describe('words from right to left', () => {
  it('are each apart from the figures and words around them, with the figures inside them', () => {
    expect(isolateRuns(`<p>${BEAM}, 16 × ${POLE}: 3 h</p>`)).toBe(
      `<p>${FSI}${BEAM}${PDI}, 16 × ${FSI}${POLE}${PDI}: 3 h</p>`,
    );
  });

  it('are left as they are in attributes, fields, choices and scripts', () => {
    const pages = [
      `<input value="${BEAM}">`,
      `<textarea name="a">${BEAM}</textarea>`,
      `<select><option>${BEAM}</option></select>`,
      `<div data-state="{&quot;a>b&quot;:&quot;${BEAM}&quot;}"></div>`,
      `<script>"${BEAM}"</script>`,
      `<title>${BEAM}</title>`,
    ];
    for (const page of pages) expect(isolateRuns(page)).toBe(page);
  });

  it('keep a figure at the end of a name that the page has alone, and no other', () => {
    const page = `<h2>${BEAM} 12</h2><p>3 × ${BEAM} 12, 4 h; ${BEAM} 8 left</p>`;
    expect(isolateRuns(page)).toBe(
      `<h2>${FSI}${BEAM} 12${PDI}</h2><p>3 × ${FSI}${BEAM} 12${PDI}, 4 h; ${FSI}${BEAM}${PDI} 8 left</p>`,
    );
    expect(isolateRuns(`<b>${BEAM} M6</b>`)).toBe(`<b>${FSI}${BEAM} M6${PDI}</b>`);
    expect(isolateRuns(`<b>${BEAM} 1</b><p>${BEAM} 12 left</p>`)).toContain(`<p>${FSI}${BEAM}${PDI} 12 left</p>`);
  });

  it('keep the mark that ends a question on their side of it', () => {
    expect(isolateRuns(`<p>decide ${BEAM}? 4 h</p>`)).toBe(`<p>decide ${FSI}${BEAM}?${PDI} 4 h</p>`);
  });

  it('change nothing where there are none', () => {
    const page = '<p>Größe 12 × Καλημέρα, Привет</p>';
    expect(isolateRuns(page)).toBe(page);
  });

  it('are kept apart once in what a script writes', () => {
    const apart = `12 ${FSI}${BEAM}${PDI}, 4 h`;
    expect(isolatedText(`12 ${BEAM}, 4 h`)).toBe(apart);
    expect(isolatedText(apart)).toBe(apart);
    expect(isolatedText('12 Größe')).toBe('12 Größe');
  });
});
