/** What the plain form of Count sends, as an entry of the log, or in a sentence what is wrong with it. */
import { countTexts } from '../../../views/texts/count/sheet.ts';
import { type Forecast, type NewLogEntry, type Result, wordedProblem } from '../../model/index.ts';
import { pressedId } from '../web.ts';

const say = countTexts.plain.refused;
const MOST_UNITS = 1_000_000;
const KINDS = ['done', 'scrapped', 'scrapped-counted'] as const;

/**
 * Reads the fields of the form. The entry's id is made of what it says and of how far the log had come when the form was
 * drawn: the same press sent twice counts once, the same number after it counts again.
 */
export function readPlainCount(body: unknown, build: string, forecast: Forecast): Result<Omit<NewLogEntry, 'at'>> {
  const text = (name: string): string => {
    const sent = (body as Readonly<Record<string, unknown>> | null)?.[name];
    return typeof sent === 'string' ? sent.trim() : '';
  };
  const refuse = (field: string, message: string): Result<never> => ({
    ok: false,
    problems: [wordedProblem('log', `entry.${field}`, text(field), message)],
  });
  const [kind, undoes] = [text('kind'), text('undoes')];
  const said = ['token', 'kind', 'step', 'n', 'undoes'].map(text);
  const id = pressedId('plain', [build, ...said]);
  if (kind === 'undo') return undoes === '' ? refuse('undoes', say.undoes) : { ok: true, value: { id, kind, undoes } };
  if (!KINDS.some((one) => one === kind)) return refuse('kind', say.kind(kind));
  const [own, set] = text('step').split('/');
  const step = forecast.steps.find((one) => one.id === own);
  if (step === undefined) return refuse('step', say.step(own!));
  const n = /^\d{1,7}$/.test(text('n')) ? Number(text('n')) : 0;
  if (n < 1 || n > MOST_UNITS) return refuse('n', say.number(text('n')));
  const inSet = set === undefined || set === '' ? {} : { set: Number(set) };
  if (kind === 'done' && step.kind === 'gate')
    return { ok: true, value: { id, kind: 'passed', step: step.id, ...inSet } };
  if (kind === 'done') return { ok: true, value: { id, kind, step: step.id, n, ...inSet } };
  return { ok: true, value: { id, kind: 'scrapped', step: step.id, n, counted: kind !== 'scrapped', ...inSet } };
}
