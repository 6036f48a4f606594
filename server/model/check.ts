/**
 * Reading something from outside as a build, a part of one, or a log entry: the schema's own words turned into
 * sentences with the field, the value and what would be right. What needs a calendar or a formula is checked by the
 * engine.
 */
import type { Static, TSchema } from 'typebox';
import { Compile } from 'typebox/compile';
import { Settings } from 'typebox/system';
import { Build, BuildFile, FILE_FORMAT, FILE_VERSION } from './build.ts';
import { Decision, Gate } from './gate.ts';
import { Machine, Person } from './hands.ts';
import { linkProblems } from './limits.ts';
import { LogEntry, NewLogEntry } from './log-entry.ts';
import { Limit, Parameter } from './parameter.ts';
import { measureProblems, Part } from './part.ts';
import { cut, jsonOf, type Problem, problem, type Result } from './problem.ts';
import { Box, boxProblems, Passage, Point, passageProblems, StrikeJob } from './show.ts';
import { Feed, Step } from './step.ts';
import { Supplier } from './supplier.ts';
import { englishOf, problemTexts, wordsOf } from './texts/index.ts';
import { isSentence, type Sentence } from './texts/sentence.ts';

const say = problemTexts.shape;

/** The library stops at eight complaints, and a union of work patterns alone makes more. */
Settings.Set({ maxErrors: 500 });

/** What compiles the schema of each check. */
const toCompile: (() => unknown)[] = [];

/** A whole build. Unknown keys are refused by name. */
export const checkBuild = checker(Build, '', buildProblems);
export const checkNewLogEntry = checker(NewLogEntry, 'entry');
export const checkLogEntry = checker(LogEntry, 'entry');
export const checkParameter = checker(Parameter, 'parameters');
export const checkLimit = checker(Limit, 'limits');
export const checkPart = checker(Part, 'parts', measureProblems);
export const checkSupplier = checker(Supplier, 'suppliers');
export const checkPerson = checker(Person, 'people');
export const checkMachine = checker(Machine, 'machines');
export const checkStep = checker(Step, 'steps');
export const checkFeed = checker(Feed, 'feeds');
export const checkGate = checker(Gate, 'gates');
export const checkDecision = checker(Decision, 'decisions');
export const checkBox = checker(Box, 'boxes', boxProblems);
export const checkPassage = checker(Passage, 'passages', passageProblems);
export const checkPoint = checker(Point, 'points');
export const checkStrikeJob = checker(StrikeJob, 'strike');

const checkFileShape = checker(BuildFile, '', ({ build }) => buildProblems(build));

/** What the shapes cannot say of a build. */
function buildProblems(build: Build): Problem[] {
  const { parts = [], boxes = [], passages = [] } = build;
  const own = [...parts.flatMap(measureProblems), ...boxes.flatMap(boxProblems), ...passages.flatMap(passageProblems)];
  return [...linkProblems(build), ...own];
}

/** A build file of this format and version. Another format or version is named before anything else is looked at. */
export function checkBuildFile(value: unknown): Result<BuildFile> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return refuse('shape', '', value, say.notAFile(kindOf(value)));
  }
  const { format, version } = value as { format?: unknown; version?: unknown };
  if (format !== FILE_FORMAT) {
    return refuse('version', 'format', format, say.format(FILE_FORMAT, worded(format)));
  }
  if (version !== FILE_VERSION) {
    return refuse('version', 'version', version, say.version(FILE_VERSION, worded(version)));
  }
  return checkFileShape(value);
}

/** The JSON Schema of the build file, as printed by `daywright schema`. */
export function buildFileSchema(): object {
  return schemaAsRead({
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Daywright build file',
    ...BuildFile,
  });
}

function refuse<T>(code: Problem['code'], field: string, value: unknown, what: Sentence): Result<T> {
  return { ok: false, problems: [problem(code, field, value ?? 'nothing', what)] };
}

/**
 * A check of a value from outside: the value as it is, or its problems as sentences with the field below `root`, what
 * was found there and what would be right; `more` looks at what the schema cannot say. A schema is compiled when it is
 * first asked, since most starts never ask most of them.
 */
export function checker<S extends TSchema>(
  schema: S,
  root: string,
  more: (value: Static<S>) => readonly Problem[] = () => [],
): (value: unknown) => Result<Static<S>> {
  const compiled = once(() => Compile(schema));
  toCompile.push(compiled);
  return (value) => {
    if (compiled().Check(value)) {
      const found = more(value as Static<S>);
      return found.length > 0 ? { ok: false, problems: found } : { ok: true, value: value as Static<S> };
    }
    const checked = { schema, root };
    const errors = longLists(schema, value);
    const complaints = errors.length > 0 ? errors : (compiled().Errors(value) as SchemaError[]);
    return { ok: false, problems: explain(complaints, value, checked) };
  };
}

/**
 * Compiles the schema of each check that nobody has asked yet, one with each step: somebody would wait for all that the
 * first edit asks. Some milliseconds each, twenty for a whole build.
 */
export function* compiledChecks(): Generator<void> {
  for (const compile of toCompile) {
    compile();
    yield;
  }
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

interface ListSchema {
  readonly maxItems?: number;
  readonly items?: ListSchema;
  readonly properties?: Readonly<Record<string, ListSchema>>;
}

/** Lists that are too long, said before anything looks into what is in them: the library takes seconds for each. */
function longLists(schema: ListSchema, value: unknown, path = ''): SchemaError[] {
  if (Array.isArray(value)) {
    const { maxItems = Number.POSITIVE_INFINITY, items = {} } = schema;
    if (value.length <= maxItems) return value.flatMap((one, i) => longLists(items, one, `${path}/${i}`));
    return [{ keyword: 'maxItems', schemaPath: '', instancePath: path, params: { limit: maxItems }, message: '' }];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(schema.properties ?? {}).flatMap(([name, field]) =>
    longLists(field, (value as Record<string, unknown>)[name], `${path}/${name}`),
  );
}

interface SchemaError {
  readonly keyword: string;
  readonly schemaPath: string;
  readonly instancePath: string;
  readonly params: Record<string, unknown>;
  readonly message: string;
}

/** The kinds of phases in the order of the schema. */
const PHASE_KINDS = ['hands', 'run', 'wait', 'lead'];
const MOST_PROBLEMS = 30;
/** Names that one sentence lists. */
const MOST_NAMED = 8;

interface Checked {
  readonly schema: TSchema;
  /** What the paths of its fields begin with. */
  readonly root: string;
}

/** One sentence a field: only the complaints of a union's closest member are given. */
function explain(errors: readonly SchemaError[], value: unknown, { schema, root }: Checked): Problem[] {
  const byField = new Map<string, Problem>();
  const deepest = [...errors].filter((e) => e.keyword !== 'boolean').sort((a, b) => depth(b) - depth(a));
  const unions = errors.filter((e) => e.keyword === 'anyOf');
  for (const error of deepest) {
    const path = error.instancePath;
    const inUnion = unions.find((u) => path === u.instancePath || path.startsWith(`${u.instancePath}/`));
    const report = inUnion ? fitting(inUnion, errors, value) : error;
    const field = fieldName(report.instancePath, value, root);
    const found = at(value, report.instancePath);
    const said =
      report.keyword === 'required'
        ? missing(report, field, schema)
        : [worded1(report, field, found, formsOf(report, errors, schema))];
    for (const it of said) if (!byField.has(it.field)) byField.set(it.field, it);
    if (byField.size >= MOST_PROBLEMS) break;
  }
  return [...byField.values()];
}

function depth(e: SchemaError): number {
  return e.instancePath.split('/').length;
}

/** For a failed union: the complaint of the member whose `kind` fits, or the union's own. */
function fitting(union: SchemaError, errors: readonly SchemaError[], value: unknown): SchemaError {
  const here = at(value, union.instancePath);
  if (typeof here !== 'object' || here === null) return union;
  const kind = (here as { kind?: unknown }).kind;
  if (kind === undefined) {
    const inside = errors.find((e) => e.instancePath.startsWith(`${union.instancePath}/`) && e.keyword !== 'boolean');
    return inside ?? union;
  }
  const member = typeof kind === 'string' ? PHASE_KINDS.indexOf(kind) : -1;
  if (member < 0) return { ...union, instancePath: `${union.instancePath}/kind`, keyword: 'kind' };
  const prefix = `${union.schemaPath}/anyOf/${member}`;
  const within = (e: SchemaError) =>
    e.instancePath === union.instancePath || e.instancePath.startsWith(`${union.instancePath}/`);
  return errors.find((e) => e.schemaPath.startsWith(prefix) && within(e) && e.keyword !== 'boolean') ?? union;
}

/** What is not there, each by its own field, with what it should be. */
function missing(error: SchemaError, field: string, schema: TSchema): Problem[] {
  const things = error.params.requiredProperties as readonly string[];
  return things.map((name) => {
    const path = field === '' ? name : `${field}.${name}`;
    const forms = formsAt(schema, `${error.schemaPath}/properties/${name}`);
    return problem('shape', path, 'nothing', say.missing(path, forms));
  });
}

/** What would be right where a union failed, or null where the schema does not say. */
function formsOf(error: SchemaError, errors: readonly SchemaError[], schema: TSchema): Sentence | null {
  const members = errors.filter((e) => e.schemaPath.startsWith(`${error.schemaPath}/anyOf/`) && e.keyword === 'const');
  if (error.keyword === 'anyOf' && members.length > 0) return say.oneOf(members.map((e) => e.params.allowedValue));
  return formsAt(schema, error.schemaPath);
}

interface Described {
  readonly description?: string;
  readonly const?: unknown;
  readonly anyOf?: readonly Described[];
}

function formsAt(schema: TSchema, path: string): Sentence | null {
  const found = at(schema, path) as Described | undefined;
  const values = found?.anyOf?.flatMap((it) => (it.const === undefined ? [] : [it.const])) ?? [];
  return values.length > 0 ? say.oneOf(values) : describedBy(found?.description);
}

/** A copy of schemas, with what they say that they hold in the language of the moment. */
export function schemaAsRead(schema: object): object {
  const read = (name: string, value: unknown): unknown => {
    const sentence = name === 'description' && typeof value === 'string' ? describedBy(value) : null;
    return sentence === null ? value : (wordsOf(sentence) ?? value);
  };
  return JSON.parse(JSON.stringify(schema, read)) as object;
}

/** What a schema says that it holds, as the sentence that it was taken from; null where it says nothing. */
function describedBy(description: string | undefined): Sentence | null {
  return description === undefined ? null : (DESCRIBED.get(description) ?? null);
}

const DESCRIBED: ReadonlyMap<string, Sentence> = new Map(
  sentencesIn(problemTexts.described).map((one) => [englishOf(one), one]),
);

function sentencesIn(table: object): Sentence[] {
  return Object.values(table).flatMap((one: object) => (isSentence(one) ? [one] : sentencesIn(one)));
}

function worded1(error: SchemaError, field: string, value: unknown, forms: Sentence | null): Problem {
  const refused = (code: Problem['code'], text: Sentence) =>
    problem(code, field, value ?? 'nothing', say.whole(say.subject(field), text));
  const found = worded(value);
  const { limit, ...params } = error.params;
  switch (error.keyword) {
    case 'additionalProperties':
      return refused('shape', unknownKeys(params.additionalProperties));
    case 'kind':
      return refused('shape', say.kind(PHASE_KINDS, found));
    case 'minimum':
    case 'exclusiveMinimum': {
      const text = error.keyword === 'minimum' ? say.atLeast : say.moreThan;
      return refused(Number(value) < 0 ? 'negative-count' : 'shape', text(limit, found));
    }
    case 'maximum':
      return refused('shape', say.atMost(limit, found));
    case 'maxItems':
      return refused('too-large', say.tooManyItems(limit, (value as unknown[]).length));
    case 'maxLength':
      return refused('too-large', say.tooLong(limit, String(value).length));
    case 'type':
      return refused('shape', say.mustBe(say.type(String(params.type)), found));
    case 'anyOf':
    case 'const':
    case 'enum':
      return refused('shape', say.mustBe(forms ?? say.anyForm, found));
    case 'minLength':
      return refused('shape', say.empty);
    case 'pattern':
      return refused('shape', say.mustBe(formOf(String(params.pattern)), found));
    default:
      return refused('shape', say.other(error.message, found));
  }
}

const FORMS: readonly (readonly [string, Sentence])[] = [
  ['^[a-z0-9][a-z0-9-]', say.forms.id],
  ['^[A-Za-z][A-Za-z0-9_]', say.forms.parameter],
  ['^\\d{4}-\\d{2}-\\d{2}$', say.forms.date],
  ['^\\d{4}-\\d{2}-\\d{2}T', say.forms.moment],
  ['^([01]\\d|2[0-3])', say.forms.time],
  ['^[A-Za-z0-9_-]{8', say.forms.entry],
];

function formOf(pattern: string): Sentence {
  return FORMS.find(([start]) => pattern.startsWith(start))?.[1] ?? say.forms.pattern(pattern);
}

function unknownKeys(names: unknown): Sentence {
  const all = (Array.isArray(names) ? names : [names]).map((name) => worded(String(name)));
  return say.unknownKeys(all.slice(0, MOST_NAMED), all.length - MOST_NAMED);
}

function kindOf(value: unknown): Sentence {
  if (value === null || value === undefined) return say.nothing;
  return Array.isArray(value) ? say.list : say.type(typeof value);
}

function worded(value: unknown): string | Sentence {
  if (value === undefined) return say.noValue;
  if (value === '') return say.emptyValue;
  return jsonOf(value, LONGEST_WORDED);
}

const LONGEST_WORDED = 80;

/**
 * `/steps/3/phases/1/machine` as `steps.print-cranks.phases.1.machine`: things are named by their id, not by their
 * place.
 */
function fieldName(path: string, value: unknown, root: string): string {
  const names: string[] = root === '' ? [] : [root];
  let here: unknown = value;
  for (const key of path.split('/').slice(1)) {
    here = (here as Record<string, unknown> | undefined)?.[key];
    const own = here as { id?: unknown; name?: unknown } | undefined;
    const named = /^\d+$/.test(key) && typeof (own?.id ?? own?.name) === 'string';
    names.push(cut(named ? String(own?.id ?? own?.name) : key, LONGEST_WORDED));
  }
  return names.join('.');
}

function at(value: unknown, path: string): unknown {
  let here = value;
  for (const key of path.split('/').slice(1)) here = (here as Record<string, unknown> | undefined)?.[key];
  return here;
}
