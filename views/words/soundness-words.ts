/** The checks of the plan in words, for the page and for the command line. */
import type { Forecast, LagFound, SoundnessCheck, UnsignedStep } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import { stepName } from './marks.tsx';
import { namesOfSteps } from './names.ts';
import { hoursText, lengthText, percent, twoFigures } from './wording.ts';

const say = texts.soundness;

interface SoundnessFinding {
  readonly code: SoundnessCheck['code'];
  readonly message: string;
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
    const message = check.saidElsewhere ? null : soundnessText(forecast, check);
    return message === null ? [] : [{ code: check.code, message, step: check.steps[0] ?? null }];
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
  if (check.fine) return null;
  const { value, limit } = check;
  const of = check.of ?? 0;
  const steps = namesOfSteps(forecast, check.steps);
  const name = (id: string) => stepName(forecast, id);
  switch (check.code) {
    case 'missing-logic': {
      const { ends, begins } = check.values!;
      const found = new Set([...ends, ...begins]).size;
      return say.looseEnds(found, namesOfSteps(forecast, ends), namesOfSteps(forecast, begins));
    }
    case 'negative-lag':
      return say.negativeLag(value, lagTexts(forecast, check.values!.lags));
    case 'unnamed-lag':
      return say.unnamedLag(value, lagTexts(forecast, check.values!.lags));
    case 'fixed-start':
      return say.fixedStart(value, of, steps);
    case 'broken-path':
      return say.brokenPath;
    case 'high-slack':
      return say.highSlack(
        value,
        of,
        check.values!.slacks.map(({ step, minutes }) => say.slack(name(step), lengthText(minutes))),
      );
    case 'negative-slack': {
      const { worst } = check.values!;
      return say.negativeSlack(value, of, name(worst.step), lengthText(worst.minutes, 'up'));
    }
    case 'path-index': {
      const { length, left, byHands } = check.values!;
      return say.pathIndex(hoursText(length), hoursText(left), byHands, twoFigures(Math.max(0, value)), limit);
    }
    case 'no-route':
      return say.noRoute(
        value,
        check.values!.parts.map((part) => say.toMake(part.name, part.toMake)),
      );
    case 'missing-kind':
      return say.missingKind(check.values!.kinds.map((kind) => say.kind[kind]));
    case 'no-hands':
      return say.noHands(value);
    case 'no-minutes':
      return say.noMinutes(value, steps);
    case 'guessed':
      return say.guessed(value, of, steps);
    case 'long-lot': {
      const { days, dayMinutes } = check.values!;
      return say.longLot(value, days, hoursText(dayMinutes), steps);
    }
    case 'unsigned':
      return say.unsigned(unsignedTexts(forecast, check.values!.open));
    case 'totals':
      return say.totals(steps);
    case 'invalid-date':
      return say.invalidDate(check.values!.lots, steps);
    case 'no-first-plan':
      return say.noFirstPlan;
    case 'missed': {
      const { lots, due, behind } = check.values!;
      return say.missed(
        twoFigures(lots),
        twoFigures(due),
        behind.map((one) => say.behind(name(one.step), one.done, one.due)),
      );
    }
    case 'execution-index': {
      const { done, due } = check.values!;
      return say.execution(twoFigures(done), twoFigures(due), percent(value), percent(limit));
    }
    case 'no-chance':
      return say.noChance;
    case 'stale-log':
      return say.staleLog(lengthText(check.values!.minutes));
  }
}

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
