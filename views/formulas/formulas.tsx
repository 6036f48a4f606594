/** Formulas: every function that may be typed where a number goes, with arguments, units, source and an example. */
import type { ListedFormula } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { formulaTexts as say } from '../texts/begin/formulas.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { figure } from '../words/wording.ts';
import { argumentTexts, bySubject, callText, exampleText, givesText, sourceText } from './formula-words.ts';

interface FormulasProps {
  page: BuildPage;
  formulas: readonly ListedFormula[];
}

export function FormulasPage(props: FormulasProps): Html {
  return (
    <BuildLayout page={props.page} screen="design">
      <FormulasSheet {...props} />
    </BuildLayout>
  );
}

export function FormulasSheet({ page, formulas }: FormulasProps): Html {
  const subjects = bySubject(formulas);
  return (
    <Sheet page={page} screen="design" refresh={null}>
      <h1>{say.heading}</h1>
      <p>{say.intro}</p>
      <p>
        <a href={screenHref(page.build.id, 'design')}>{texts.screens.design}</a>
      </p>
      <Numbers page={page} />
      <h2>{say.subjects}</h2>
      <ul class="formula-subjects">
        {subjects.map(([subject, { length }]) => (
          <li key={subject}>
            <a href={`#${subject}`}>{say.subject[subject] ?? subject}</a> <span class="quiet">{length}</span>
          </li>
        ))}
      </ul>
      {subjects.map(([subject, own]) => (
        <section key={subject}>
          <h2 id={subject}>{say.subject[subject] ?? subject}</h2>
          <ul class="formulas">
            {own.map((formula) => (
              <Formula key={formula.name} formula={formula} />
            ))}
          </ul>
        </section>
      ))}
    </Sheet>
  );
}

/** The names that formulas of this build may use, with what they are worth. */
function Numbers({ page }: { page: BuildPage }): Html | null {
  const { parameters } = page.forecast;
  if (parameters.length === 0) return null;
  return (
    <section aria-labelledby="numbers">
      <h2 id="numbers">{say.inThisBuild}</h2>
      <p>
        {parameters.map(({ name, value, unit }, at) => (
          <span key={name}>
            {at === 0 ? '' : ', '}
            <code>{name}</code>
            {value === null ? null : ` = ${figure(value, 4)}${unit === null ? '' : ` ${unit}`}`}
          </span>
        ))}
      </p>
    </section>
  );
}

function Formula({ formula }: { formula: ListedFormula }): Html {
  const args = argumentTexts(formula);
  return (
    <li id={`formula-${formula.name}`}>
      <h3>
        <code>{callText(formula)}</code>
      </h3>
      <p>{givesText(formula)}</p>
      {args.length === 0 ? null : <p class="quiet">{args.join('; ')}</p>}
      <p>
        <code>{exampleText(formula)}</code>
      </p>
      <p class="quiet small">{sourceText(formula)}</p>
    </li>
  );
}
