/**
 * Reading something from outside as a build, a part of one, or a log entry: the schema's own words turned into sentences
 * with the field, the value and what would be right. What needs a calendar or a formula is checked by the engine.
 */
import type { Static, TSchema } from 'typebox';
import { Compile } from 'typebox/compile';
import { Build, BuildFile, FILE_FORMAT, FILE_VERSION } from './build.ts';
import { Decision, Gate } from './gate.ts';
import { Machine, Person } from './hands.ts';
import { LogEntry, NewLogEntry } from './log-entry.ts';
import { Parameter } from './parameter.ts';
import { Part } from './part.ts';
import { jsonOf, type Problem, problem, type Result } from './problem.ts';
import { Feed, Step } from './step.ts';
import { Supplier } from './supplier.ts';

/** A whole build. Unknown keys are refused by name. */
export const checkBuild = checker(Build, '');
export const checkNewLogEntry = checker(NewLogEntry, 'entry');
export const checkLogEntry = checker(LogEntry, 'entry');
export const checkParameter = checker(Parameter, 'parameters');
export const checkPart = checker(Part, 'parts');
export const checkSupplier = checker(Supplier, 'suppliers');
export const checkPerson = checker(Person, 'people');
export const checkMachine = checker(Machine, 'machines');
export const checkStep = checker(Step, 'steps');
export const checkFeed = checker(Feed, 'feeds');
export const checkGate = checker(Gate, 'gates');
export const checkDecision = checker(Decision, 'decisions');

const checkFileShape = checker(BuildFile, '');

/** A build file of this format and version. Another format or version is named before anything else is looked at. */
export function checkBuildFile(value: unknown): Result<BuildFile> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refuse(
      'shape',
      '',
      value,
      `A build file is an object with "format", "version" and "build"; this is ${kindOf(value)}.`,
    );
  }
  const { format, version } = value as { format?: unknown; version?: unknown };
  if (format !== FILE_FORMAT) {
    return refuse('version', 'format', format, `"format" must be "${FILE_FORMAT}"; it is ${worded(format)}.`);
  }
  if (version !== FILE_VERSION) {
    return refuse(
      'version',
      'version',
      version,
      `This Daywright reads version ${FILE_VERSION} of the build file; this one says ${worded(version)}.`,
    );
  }
  return checkFileShape(value);
}

/** The JSON Schema of the build file, as printed by `daywright schema`. */
export function buildFileSchema(): object {
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Daywright build file',
    ...(JSON.parse(JSON.stringify(BuildFile)) as object),
  };
}

function refuse<T>(code: Problem['code'], field: string, value: unknown, message: string): Result<T> {
  return { ok: false, problems: [problem(code, field, value ?? 'nothing', message)] };
}

function checker<S extends TSchema>(schema: S, root: string): (value: unknown) => Result<Static<S>> {
  const compiled = Compile(schema);
  return (value) => {
    if (compiled.Check(value)) return { ok: true, value: value as Static<S> };
    const problems = explain(compiled.Errors(value) as SchemaError[], value, root, schema);
    return { ok: false, problems };
  };
}

interface SchemaError {
  readonly keyword: string;
  readonly schemaPath: string;
  readonly instancePath: string;
  readonly params: Record<string, unknown>;
  readonly message: string;
}

const MOST_PROBLEMS = 30;

/** One sentence a field: of a union's many complaints only those of the closest member are told. */
function explain(errors: readonly SchemaError[], value: unknown, root: string, schema: TSchema): Problem[] {
  const byField = new Map<string, Problem>();
  const deepest = [...errors].filter((e) => e.keyword !== 'boolean').sort((a, b) => depth(b) - depth(a));
  const unions = errors.filter((e) => e.keyword === 'anyOf');
  for (const error of deepest) {
    const path = error.instancePath;
    const inUnion = unions.find((u) => path === u.instancePath || path.startsWith(`${u.instancePath}/`));
    const report = inUnion ? fitting(inUnion, errors, value) : oneOf(error, schema);
    const field = fieldName(report.instancePath, value, root);
    if (!byField.has(field)) byField.set(field, worded1(report, field, at(value, report.instancePath)));
    if (byField.size >= MOST_PROBLEMS) break;
  }
  return [...byField.values()];
}

function depth(e: SchemaError): number {
  return e.instancePath.split('/').length;
}

/** Of a failed union: the complaint of the member whose `kind` fits, or the union's own. */
function fitting(union: SchemaError, errors: readonly SchemaError[], value: unknown): SchemaError {
  const here = at(value, union.instancePath);
  if (typeof here !== 'object' || here === null) return union;
  const kind = (here as { kind?: unknown }).kind;
  if (kind === undefined) {
    const inside = errors.find((e) => e.instancePath.startsWith(`${union.instancePath}/`) && e.keyword !== 'boolean');
    return inside ?? union;
  }
  const member = ['hands', 'run', 'wait', 'lead'].indexOf(String(kind));
  if (member < 0) return { ...union, instancePath: `${union.instancePath}/kind`, keyword: 'kind' };
  const prefix = `${union.schemaPath}/anyOf/${member}`;
  return errors.find((e) => e.schemaPath.startsWith(prefix) && e.keyword !== 'boolean') ?? union;
}

/** Where each member of a union is a word, and none of them fits: the words that would be right. */
function oneOf(error: SchemaError, schema: TSchema): SchemaError {
  const path = error.schemaPath.replace(/^#\/?/, '').replace(/\/?anyOf\/\d+$/, '');
  const keys = path === '' ? [] : path.split('/');
  const union = keys.reduce<unknown>((node, key) => (node as Record<string, unknown> | undefined)?.[key], schema);
  const members = (union as { anyOf?: { const?: unknown }[] } | undefined)?.anyOf ?? [];
  const words = members.map((member) => member.const);
  if (error.keyword !== 'const' || words.length === 0 || words.includes(undefined)) return error;
  return { ...error, keyword: 'words', params: { words } };
}

function worded1(error: SchemaError, field: string, value: unknown): Problem {
  const where = field === '' ? 'The build' : `"${field}"`;
  const say = (code: Problem['code'], text: string) => problem(code, field, value ?? 'nothing', `${where} ${text}`);
  const { params } = error;
  switch (error.keyword) {
    case 'required':
      return say('shape', `lacks ${list(params.requiredProperties)}.`);
    case 'additionalProperties':
      return say('shape', `has ${list(params.additionalProperties)}, which is not a name used there.`);
    case 'kind':
      return say('shape', `must be one of hands, run, wait, lead; it is ${worded(value)}.`);
    case 'words':
      return say('shape', `must be one of ${(params.words as unknown[]).join(', ')}; it is ${worded(value)}.`);
    case 'minimum':
    case 'exclusiveMinimum': {
      const bound = error.keyword === 'minimum' ? 'at least' : 'more than';
      return say(
        Number(value) < 0 ? 'negative-count' : 'shape',
        `must be ${bound} ${params.limit}; it is ${worded(value)}.`,
      );
    }
    case 'maximum':
      return say('shape', `must be at most ${params.limit}; it is ${worded(value)}.`);
    case 'type':
      return say('shape', `must be ${article(String(params.type))}; it is ${worded(value)}.`);
    case 'anyOf':
    case 'const':
    case 'enum':
      return say('shape', `has no form that is known there: ${worded(value)}. See "daywright schema" for the forms.`);
    case 'pattern':
      return say('shape', `must be ${formOf(String(params.pattern))}; it is ${worded(value)}.`);
    default:
      return say('shape', `${error.message}; it is ${worded(value)}.`);
  }
}

const FORMS: readonly (readonly [string, string])[] = [
  ['^[a-z0-9][a-z0-9-]', 'a short name of small letters, digits and hyphens'],
  ['^[A-Za-z][A-Za-z0-9_]', 'a letter followed by letters, digits and _'],
  ['^\\d{4}-\\d{2}-\\d{2}$', 'a date as YYYY-MM-DD'],
  ['^\\d{4}-\\d{2}-\\d{2}T', 'a date and time as YYYY-MM-DDTHH:MM'],
  ['^([01]\\d|2[0-3])', 'a time of day as HH:MM'],
  ['^[A-Za-z0-9_-]{8', 'an id of 8 to 64 letters, digits, _ and -'],
];

function formOf(pattern: string): string {
  return FORMS.find(([start]) => pattern.startsWith(start))?.[1] ?? `of the form ${pattern}`;
}

function list(names: unknown): string {
  return (Array.isArray(names) ? names : [names]).map((name) => `"${name}"`).join(', ');
}

function article(type: string): string {
  return type === 'integer' ? 'a whole number' : `${/^[aeio]/.test(type) ? 'an' : 'a'} ${type}`;
}

function kindOf(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  return Array.isArray(value) ? 'a list' : article(typeof value);
}

function worded(value: unknown): string {
  if (value === undefined) return 'missing';
  const text = jsonOf(value);
  return text.length > 80 ? `${text.slice(0, 80)}…` : text;
}

/** `/steps/3/phases/1/machine` as `steps.print-cranks.phases.1.machine`: things are named by their id, not by their place. */
function fieldName(path: string, value: unknown, root: string): string {
  const names: string[] = root === '' ? [] : [root];
  let here: unknown = value;
  for (const key of path.split('/').slice(1)) {
    here = (here as Record<string, unknown> | undefined)?.[key];
    const own = here as { id?: unknown; name?: unknown } | undefined;
    const named = /^\d+$/.test(key) && typeof (own?.id ?? own?.name) === 'string';
    names.push(named ? String(own?.id ?? own?.name) : key);
  }
  return names.join('.');
}

function at(value: unknown, path: string): unknown {
  let here = value;
  for (const key of path.split('/').slice(1)) here = (here as Record<string, unknown> | undefined)?.[key];
  return here;
}
