/** The checks of the plan in words, for the page and for the command line. */
import type {
  Forecast,
  LagFound,
  SoundnessCheck,
  SoundnessCode,
  SoundnessValues,
  UnsignedStep,
} from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import { stepName } from './marks.tsx';
import { namesOfSteps } from './names.ts';
import { hoursText, lengthText, percent, twoFigures } from './wording.ts';

const say = texts.soundness;

interface SoundnessFinding {
  readonly code: SoundnessCheck['code'];
  readonly said: string;
  /** The first step that it is about. */
  readonly step: string | null;
}

interface SoundnessWords {
  readonly heading: string;
  /** How many passed. */
  readonly count: string;
  /** Those that nothing else says. */
  readonly findings: readonly SoundnessFinding[];
  readonly elsewhere: string | null;
}

/** What was found and how many checks passed; null where nothing was checked. */
export function soundnessWords(forecast: Forecast): SoundnessWords | null {
  const { soundness = [] } = forecast;
  if (soundness.length === 0) return null;
  const open = soundness.filter(({ fine }) => !fine);
  const findings = open.flatMap((check) => {
    const said = check.saidElsewhere ? null : soundnessText(forecast, check);
    return said === null ? [] : [{ code: check.code, said, step: check.steps[0] ?? null }];
  });
  const told = open.length - findings.length;
  const passed = soundness.length - open.length;
  return {
    heading: say.heading,
    count: open.length === 0 ? say.allPassed(passed) : say.found(findings.length + told, passed, soundness.length),
    findings,
    elsewhere: told === 0 ? null : say.elsewhere(told),
  };
}

/** What a check found, as its sentences; null where it is fine. */
export function soundnessText(forecast: Forecast, check: SoundnessCheck): string | null {
  return check.fine ? null : sentenceOf(forecast, check as Found);
}

/** A check that found something. */
type Found<Code extends SoundnessCode = SoundnessCode> = SoundnessCheck<Code> & {
  readonly values: SoundnessValues[Code];
};

function sentenceOf<Code extends SoundnessCode>(forecast: Forecast, found: Found<Code>): string {
  return SENTENCES[found.code](found, forecast);
}

/** How each check words what it found. */
const SENTENCES: { readonly [Code in SoundnessCode]: (found: Found<Code>, forecast: Forecast) => string } = {
  'missing-logic': ({ values: { ends, begins } }, forecast) =>
    say.looseEnds(new Set([...ends, ...begins]).size, namesOfSteps(forecast, ends), namesOfSteps(forecast, begins)),
  'negative-lag': ({ value, values }, forecast) => say.negativeLag(value, lagTexts(forecast, values.lags)),
  'unnamed-lag': ({ value, values }, forecast) => say.unnamedLag(value, lagTexts(forecast, values.lags)),
  'fixed-start': ({ value, of, steps }, forecast) => say.fixedStart(value, of ?? 0, namesOfSteps(forecast, steps)),
  'broken-path': () => say.brokenPath,
  'high-slack': ({ value, of, values: { slacks } }, forecast) =>
    say.highSlack(
      value,
      of ?? 0,
      slacks.map(({ step, minutes }) => say.slack(stepName(forecast, step), lengthText(minutes))),
    ),
  'negative-slack': ({ value, of, values: { worst } }, forecast) =>
    say.negativeSlack(value, of ?? 0, stepName(forecast, worst.step), lengthText(worst.minutes, 'up')),
  'path-index': ({ value, limit, values: { length, left, byHands } }) =>
    say.pathIndex(hoursText(length), hoursText(left), byHands, twoFigures(Math.max(0, value)), limit),
  'no-route': ({ value, values: { parts } }) =>
    say.noRoute(
      value,
      parts.map((part) => say.toMake(part.name, part.toMake)),
    ),
  'missing-kind': ({ values: { kinds } }) => say.missingKind(kinds.map((kind) => say.kind[kind])),
  'no-hands': ({ value }) => say.noHands(value),
  'no-minutes': ({ value, steps }, forecast) => say.noMinutes(value, namesOfSteps(forecast, steps)),
  guessed: ({ value, of, steps }, forecast) => say.guessed(value, of ?? 0, namesOfSteps(forecast, steps)),
  'long-lot': ({ value, steps, values: { days, dayMinutes } }, forecast) =>
    say.longLot(value, days, hoursText(dayMinutes), namesOfSteps(forecast, steps)),
  unsigned: ({ values }, forecast) => say.unsigned(unsignedTexts(forecast, values.open)),
  totals: ({ steps }, forecast) => say.totals(namesOfSteps(forecast, steps)),
  'invalid-date': ({ steps, values }, forecast) => say.invalidDate(values.lots, namesOfSteps(forecast, steps)),
  'no-first-plan': () => say.noFirstPlan,
  missed: ({ values: { lots, due, behind } }, forecast) =>
    say.missed(
      twoFigures(lots),
      twoFigures(due),
      behind.map((one) => say.behind(stepName(forecast, one.step), one.done, one.due)),
    ),
  'execution-index': ({ value, limit, values: { done, due } }) =>
    say.execution(twoFigures(done), twoFigures(due), percent(value), percent(limit)),
  'no-chance': () => say.noChance,
  'stale-log': ({ values }) => say.staleLog(lengthText(values.minutes)),
};

function unsignedTexts(forecast: Forecast, open: readonly UnsignedStep[]): string[] {
  return open.map(({ step, hazard, gate }) => {
    const what = say.unsignedStep(stepName(forecast, step), texts.edit.choice.hazard[hazard]);
    return gate === null ? say.noGate(what) : say.noSigner(what, stepName(forecast, gate));
  });
}

function lagTexts(forecast: Forecast, lags: readonly LagFound[]): string[] {
  return lags.map(({ from, to, minutes }) =>
    say.lag(say.pair(stepName(forecast, from), stepName(forecast, to)), lengthText(minutes)),
  );
}
