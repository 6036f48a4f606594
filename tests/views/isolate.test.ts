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
