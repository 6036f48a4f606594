/** The questions of a ripple in a form, and the answers that were typed there. */
import { texts } from '../../../views/texts/index.ts';
import type { BuildPage, RippleForm } from '../../../views/types.ts';
import {
  type Build,
  type MadeUnits,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type RippleAnswer,
  type RippleAsked,
} from '../../model/index.ts';

/** What was typed under the names of a ripple; `isShown`: the form showed one. */
export interface PostedRipple {
  readonly isShown: boolean;
  readonly values: Readonly<Record<string, string>>;
}

const PREFIX = 'ripple.';

/** Parts what belongs to a ripple from the other fields of a form. */
export function splitRipple(values: Readonly<Record<string, string | readonly string[]>>): {
  readonly posted: PostedRipple;
  readonly rest: Readonly<Record<string, string | readonly string[]>>;
} {
  const entries = Object.entries(values);
  const isOurs = (name: string) => name.startsWith(PREFIX) || name === 'ripple-shown';
  const own = entries
    .filter(([name]) => name.startsWith(PREFIX))
    .map(([name, value]) => [name, String(value)] as const);
  return {
    posted: { isShown: values['ripple-shown'] !== undefined, values: Object.fromEntries(own) },
    rest: Object.fromEntries(entries.filter(([name]) => !isOurs(name))),
  };
}

/** Whether the form that was sent has asked all that is to be asked. */
export function hasAsked({ made, ripple, isAnswer }: RippleAsked, { isShown, values }: PostedRipple): boolean {
  if (isAnswer) return true;
  const breaks = ripple.limits.some(({ isBroken, wasBroken }) => isBroken && !wasBroken);
  if (made.length === 0) return isShown || !breaks;
  return isShown && made.every((units) => `${nameOf(units)}.scrap` in values);
}

/** The answers that were typed; what is no number is said by its input. Empty inputs answer nothing. */
export function answersIn(build: Build, { values }: PostedRipple): Result<readonly RippleAnswer[]> {
  const states = new Set(Object.keys(values).map((name) => name.split('.').slice(1, 4).join('.')));
  const problems: Problem[] = [];
  const numberAt = (name: string, part: string): number => {
    const text = (values[name] ?? '').trim();
    const value = text === '' ? 0 : Number(text.replace(',', '.'));
    if (Number.isFinite(value)) return value;
    const field = name.split('.').slice(0, 4).join('.').replace(/\.-$/, '');
    problems.push(problem('shape', field, text, problemTexts.ripple.whole(nameOfPart(build, part), text)));
    return 0;
  };
  const answers = [...states].flatMap((state): RippleAnswer[] => {
    const [part = '', at = '', step = ''] = state.split('.');
    const of = (what: string) => numberAt(`${PREFIX}${state}.${what}`, part);
    if (!isPlace(at)) return [];
    const answer = {
      part,
      at,
      step: step === '-' ? null : step,
      good: of('good'),
      rework: of('rework'),
      scrap: of('scrap'),
    };
    const redo = Object.keys(values)
      .filter((name) => name.startsWith(`${PREFIX}${state}.redo.`) && values[name]!.trim() !== '')
      .map((name) => {
        const id = name.split('.')[5] ?? '';
        const redone = build.steps.find((one) => one.id === id)?.name ?? id;
        return { step: id, minutes: numberAt(name, part), name: texts.ripple.redone(redone) };
      });
    return answer.good + answer.rework + answer.scrap === 0 ? [] : [{ ...answer, redo }];
  });
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: answers };
}

/** The ripple as a form shows it, with what was typed so far. */
export function rippleForm(page: BuildPage, asked: RippleAsked, { values }: PostedRipple, isNew: boolean): RippleForm {
  const { build, forecast } = page;
  const known = new Map(forecast.steps.map((step) => [step.id, step]));
  const names = new Map((build.parts ?? []).map(({ id, name }) => [id, name]));
  const stepName = (id: string): string =>
    build.steps.find((step) => step.id === id)?.name ??
    orderName(build, id) ??
    known.get(id)?.name ??
    gateName(build, id);
  return {
    asked,
    values,
    isNew,
    partName: (id) => names.get(id) ?? id,
    stepName,
    redoOf: (units) =>
      redoable(build, units).map((step) => ({ step, minutes: known.get(step)?.handsMinutesPerUnit ?? null })),
  };
}

function nameOf({ part, at, step }: MadeUnits): string {
  return `${PREFIX}${part}.${at}.${step ?? '-'}`;
}

function isPlace(at: string): at is RippleAnswer['at'] {
  return at === 'passed' || at === 'mounted' || at === 'on-its-way' || at === 'on-hand';
}

/** The part's own steps that its units have passed, or all of them where that is not known. */
function redoable(build: Build, { part, at, step }: MadeUnits): string[] {
  const own = build.steps.filter((one) => one.part === part && !one.phases?.some(({ kind }) => kind === 'lead'));
  const last = own.findIndex((one) => one.id === step);
  return (at === 'passed' && last >= 0 ? own.slice(0, last + 1) : own).map(({ id }) => id);
}

function nameOfPart(build: Build, id: string): string {
  return build.parts?.find((part) => part.id === id)?.name ?? id;
}

function orderName(build: Build, id: string): string | null {
  const part = build.parts?.find((one) => `order-${one.id}`.slice(0, 60) === id);
  return part === undefined ? null : texts.ripple.order(part.name);
}

function gateName(build: Build, id: string): string {
  return build.gates?.find((gate) => gate.id === id)?.name ?? id;
}
