import { expect, it } from 'vitest';
import { HAZARDS } from '../../../server/model/step.ts';
import { inLanguage } from '../../../server/web/language.ts';
import { CautionFold } from '../../../views/parts/cautions.tsx';
import { renderFragment } from '../../../views/render.ts';
import { CAUTIONS, cautionsFor, cautionTexts, TIRED_HANDS } from '../../../views/texts/cautions.ts';

it('has a caution with facts and a published body for every hazard', () => {
  for (const hazard of HAZARDS) {
    const caution = CAUTIONS[hazard];
    expect(caution.id).toBe(hazard);
    expect(caution.facts.length).toBeGreaterThan(0);
    expect(caution.bodies.length).toBeGreaterThan(0);
  }
});

it('rests each fact on a source by name, or says that there is none, and shows which', () => {
  const cautions = [...HAZARDS.map((hazard) => CAUTIONS[hazard]), TIRED_HANDS];
  const sources = cautions.flatMap(({ facts }) =>
    facts.flatMap((fact) => (fact.basis === 'practice' ? [] : fact.source)),
  );
  expect(sources.filter((source) => !/[A-Z]{2}|^(the|a|texts) /.test(source))).toEqual([]);
  const shown = renderFragment(CautionFold({ hazards: HAZARDS })!);
  const asShown = cautions.slice(0, -1).flatMap(({ facts }) =>
    facts.map((fact) => {
      if (fact.basis === 'practice') return '(common practice, no source)';
      return fact.basis === 'memory' ? `(${fact.source}; from memory)` : `(${fact.source})`;
    }),
  );
  expect([...shown.matchAll(/<span class="quiet small">(\(.*?\))<\/span>/g)].map(([, said]) => said)).toEqual(asShown);
});

it('names the hazards of a build once each, in the order of the table', () => {
  expect(cautionsFor(['mains', 'dust', 'mains']).map((caution) => caution.id)).toEqual(['dust', 'mains']);
  expect(cautionsFor([])).toEqual([]);
});

it('quotes the dust limits of EH40 and not the superseded one', () => {
  // HSE, EH40 workplace exposure limits: hardwood dust 3 mg/m3, softwood dust 5 mg/m3, 8 hour averages.
  const [limits] = CAUTIONS.dust.facts;
  expect(limits?.text).toContain('3 mg/m³ for hardwood');
  expect(limits?.text).toContain('5 mg/m³ for softwood');
});

it('says the hours of the directive and leaves the word to others', () => {
  expect(TIRED_HANDS.facts.some((fact) => fact.text.includes('11 hours') && fact.text.includes('48 hours'))).toBe(true);
  expect(TIRED_HANDS.bodies).toContain('Directive 2003/88/EC');
  expect(CAUTIONS['public-decor'].bodies).toContain('EN 13501-1');
  expect(cautionTexts.footer).toBe('General information. Local codes, the venue and licensed people decide.');
});

it.each([...HAZARDS, 'tired-hands'] as const)(
  'says of %s in German what it says in English, figure for figure',
  (id) => {
    const said = (language: 'en' | 'de') =>
      inLanguage(language, () => {
        const { facts, bodies, ...own } = id === 'tired-hands' ? TIRED_HANDS : CAUTIONS[id];
        const figures = facts.map((fact) => {
          const source = fact.basis === 'practice' ? null : fact.source;
          return [fact.basis, ...(`${fact.text} ${source}`.match(/\d+(\.\d+)*/g) ?? []), source === null];
        });
        return {
          id: own.id,
          figures,
          bodies: bodies.length,
          words: [own.title, own.line, ...facts.map(({ text }) => text)],
        };
      });
    const [{ words: english, ...shape }, { words: german, ...germanShape }] = [said('en'), said('de')];
    expect(germanShape).toEqual(shape);
    expect(german.filter((text, i) => text === english[i] || text.trim() === '')).toEqual([]);
  },
);
