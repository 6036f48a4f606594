/** Pages on which things are edited: one form is open at a time, and the page's address says which. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { type Screen, screenHref } from '../../../views/links.ts';
import type { Html } from '../../../views/render.ts';
import { texts } from '../../../views/texts/index.ts';
import type { BuildPage, EditList, FormValues, KeepAs, OpenForm } from '../../../views/types.ts';
import {
  answerProblems,
  applyChanges,
  type Build,
  type Change,
  type Decision,
  decidingChanges,
  inWords,
  messageOf,
  type Problem,
  type Result,
  thingAt,
  thingName,
  wordedProblem,
} from '../../model/index.ts';
import { othersTurn } from '../../turns/turns.ts';
import { formValues, tidyRows, withRowAction } from '../edits/form-text.ts';
import { needsOf } from '../edits/needs.ts';
import { answersIn, hasAsked, type PostedRipple, rippleForm, splitRipple } from '../edits/ripple-form.ts';
import { type FormChanges, findThing, placedChanges, savedBuild, savedChanges } from '../edits/things.ts';
import { drawnHours, withDrawing, withPick } from '../edits/week.ts';
import { Refusal, statusOf } from '../errors.ts';
import { foundIn, pageOf, sendCommonSheet, sendSheet, type Web } from '../web.ts';

const say = texts.edit;

interface EditablePage {
  readonly screen: Screen;
  readonly lists: readonly (EditList | 'build')[];
  readonly page: (props: { page: BuildPage; open: OpenForm | null }) => Html;
  readonly sheet: (props: { page: BuildPage; open: OpenForm | null }) => Html;
}

interface Asked {
  readonly list: EditList | 'build';
  readonly key: string | null;
}

type BuildRequest = FastifyRequest<{ Params: { id: string }; Querystring: { open?: string; pin?: string } }>;

/** Registers GET (the page, with a form open or not) and POST (what its buttons do) for one screen. */
export function registerEditable(app: FastifyInstance, web: Web, editable: EditablePage): void {
  const path = screenHref(':id', editable.screen);
  app.get(path, async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const asked = askedFor(request, editable);
    return answer(
      web,
      request,
      reply,
      editable,
      page,
      asked === null ? null : withUnchecked(web, page, withPin(openedForm(page, asked), request.query.pin)),
    );
  });
  app.post(path, async (request: BuildRequest, reply) => {
    const page = await pageOf(web, request, request.params.id);
    const asked = askedFor(request, editable);
    if (asked === null) throw new Refusal(404, texts.errors.noOpen(''));
    return change(web, request, reply, editable, page, asked);
  });
}

function askedFor(request: BuildRequest, { lists }: EditablePage): Asked | null {
  const { open } = request.query;
  if (open === undefined) return null;
  const [list, key] = String(open).split(/\/(.*)/s);
  const known = lists.find((it) => it === list);
  if (known === undefined || (known !== 'build' && (key ?? '') === '')) {
    throw new Refusal(404, texts.errors.noOpen(String(open)));
  }
  return { list: known, key: known === 'build' || key === 'new' ? null : key! };
}

const PIN_FIELDS = ['set', 'from', 'to', 'start', 'people'] as const;

/** A step's form with one more pin in it, as a day's sheet asks for it: set, first and last unit, time, person. */
function withPin(form: OpenForm, pin: string | undefined): OpenForm {
  if (form.list !== 'steps' || pin === undefined) return form;
  const cells = String(pin).split(',');
  const rows = Object.keys(form.values).filter((key) => /^pins\.\d+\./.test(key));
  const row = new Set(rows.map((key) => key.split('.')[1])).size;
  const added = PIN_FIELDS.map((name, i) => [`pins.${row}.${name}`, cells[i] ?? ''] as const);
  return { ...form, values: { ...form.values, ...Object.fromEntries(added) }, added: 'pins' };
}

function openedForm(page: BuildPage, { list, key }: Asked): OpenForm {
  const thing = list === 'build' ? page.build : key === null ? {} : thingNamed(page.build, list, key).thing;
  const values = withDrawing(list, formValues(list, thing));
  return { list, key, values, revision: page.revision, problems: [] };
}

/** The form of a part with units that nobody has looked at asks about them. */
function withUnchecked(web: Web, page: BuildPage, form: OpenForm): OpenForm {
  const part = form.list === 'parts' ? page.build.parts?.find(({ id }) => id === form.key) : undefined;
  if (part?.unchecked === undefined) return form;
  const reach = web.planner.ripple(page.build.id, [], page.revision, part.id);
  if (!reach.ok || reach.value.made.length === 0) return form;
  return { ...form, ripple: rippleForm(page, reach.value, { isShown: false, values: {} }, false) };
}

function answer(
  web: Web,
  request: FastifyRequest,
  reply: FastifyReply,
  editable: EditablePage,
  page: BuildPage,
  open: OpenForm | null,
): Promise<string> {
  const sheets = { sheet: () => editable.sheet({ page, open }), page: () => editable.page({ page, open }) };
  return open === null
    ? sendCommonSheet(web, request, reply, page, sheets)
    : sendSheet(request, reply, sheets.sheet, sheets.page);
}

/**
 * What a button of the form does: rows are changed on the form alone, an edit is tried out or kept as an option; the
 * rest is an edit.
 */
async function change(
  web: Web,
  request: BuildRequest,
  reply: FastifyReply,
  editable: EditablePage,
  page: BuildPage,
  asked: Asked,
): Promise<string | FastifyReply> {
  const { action, revision, values, keep, ripple: posted } = postedForm(request.body);
  const kept = { ...(keep ?? NOT_NAMED), options: web.planner.optionNames(page.build.id) };
  const plain: OpenForm = { ...asked, values, revision, problems: [], ...(keep === null ? {} : { keep: kept }) };
  const form = posted.isShown ? withRipple(web, page, plain, action, posted) : plain;
  if (action.includes(':')) {
    const [verb, added = ''] = action.split(':');
    const changed = verb === 'week' ? withPick : withRowAction;
    const opened = { ...form, values: changed(asked.list, values, action) };
    return answer(web, request, reply, editable, page, verb === 'add' ? { ...opened, added } : opened);
  }
  const drawn = drawnHours(asked.list, values);
  const tidy = { ...form, values: tidyRows(asked.list, drawn.ok ? drawn.value : values) };
  if (!drawn.ok) return refuse(web, request, reply, editable, page, tidy, action, drawn.problems);
  if (action === 'keep' && keep === null) return answer(web, request, reply, editable, page, { ...tidy, keep: kept });
  const asks = changesAsked(page.build, asked, action, tidy.values);
  if (!asks.ok) return refuse(web, request, reply, editable, page, tidy, action, asks.problems);
  const { changes, key } = asks.value;
  await othersTurn();
  const named: OpenForm = key === null ? tidy : { ...tidy, as: key };
  if (action === 'see') {
    const seen = await web.planner.whatIf(page.build.id, changes, revision);
    if (!seen.ok) return refuse(web, request, reply, editable, page, named, action, seen.problems);
    const { clock } = page;
    return answer(web, request, reply, editable, page, {
      ...withRipple(web, page, tidy, action, posted),
      seen: { ...seen.value, clock, changes: changes.length > 0 },
    });
  }
  const told = answersIn(page.build, posted);
  if (!told.ok) return refuse(web, request, reply, editable, page, tidy, action, told.problems);
  if (action !== 'keep') {
    const reach = web.planner.ripple(page.build.id, changes, revision, partOf(asked));
    if (reach.ok && !hasAsked(reach.value, posted)) {
      const against = await circlesIn(web, page, changes);
      if (against.length > 0) return refuse(web, request, reply, editable, page, named, action, against);
      const shown = { ...tidy, ripple: rippleForm(page, reach.value, posted, true) };
      return answer(web, request, reply, editable, page, shown);
    }
    await othersTurn();
  }
  const who = web.who(request);
  const done =
    action === 'keep'
      ? web.planner.keepOption(page.build.id, { ...optionAsked(kept), changes, who, expected: revision })
      : await web.planner.edit(page.build.id, changes, who, revision, undefined, {
          answers: told.value,
          part: partOf(asked),
        });
  if (!done.ok) return refuse(web, request, reply, editable, page, named, action, done.problems);
  const { id } = page.build;
  const to =
    'number' in done.value
      ? `${screenHref(id, 'options')}#option-${done.value.number}`
      : afterwards(page.build, editable.screen, asked, key);
  return reply.redirect(to, 303);
}

/** What is wrong with parts that would go into others, before anybody is asked about what is made of them. */
async function circlesIn(web: Web, page: BuildPage, changes: readonly Change[]): Promise<readonly Problem[]> {
  const isAbout = changes.some((one) => one.kind === 'set' && one.list === 'parts' && one.field === 'usedIn');
  return isAbout ? await web.planner.objections(page.build.id, changes) : [];
}

/** The form with what its changes reach, where they can be made and reach anything. */
function withRipple(web: Web, page: BuildPage, form: OpenForm, action: string, posted: PostedRipple): OpenForm {
  const asks = changesAsked(page.build, form, action, tidyRows(form.list, form.values));
  const reach = asks.ok ? web.planner.ripple(page.build.id, asks.value.changes, page.revision, partOf(form)) : asks;
  if (!reach.ok) return form;
  const { made, ripple } = reach.value;
  const isEmpty = made.length === 0 && ripple.because === '';
  return isEmpty ? form : { ...form, ripple: rippleForm(page, reach.value, posted, false) };
}

/** The part whose form it is. */
function partOf({ list, key }: Asked): string | null {
  return list === 'parts' ? key : null;
}

/** The form again, with what was wrong; after a conflict it is one of the edit that it met. */
function refuse(
  web: Web,
  request: BuildRequest,
  reply: FastifyReply,
  editable: EditablePage,
  page: BuildPage,
  form: OpenForm,
  action: string,
  problems: readonly Problem[],
): Promise<string> {
  reply.code(statusOf(problems));
  const conflict = problems.some((it) => it.code === 'conflict' && it.field === 'revision');
  // The other edit may have been saved while this one was planned: the page is older than it.
  const present = conflict ? foundIn(web, page.build.id).revision : page.revision;
  const said = problems.map((it) => (conflict && it.code === 'conflict' ? conflictProblem(it, present) : it));
  const refused = action === 'remove' && !conflict ? stays(page.build, form, said) : { problems: said };
  return answer(web, request, reply, editable, page, {
    ...form,
    revision: conflict ? present : form.revision,
    ...refused,
  });
}

const NOT_NAMED = { name: '', into: '' } as const;

function optionAsked({ name, into }: Pick<KeepAs, 'name' | 'into'>): { name: string; into?: number } {
  return /^\d{1,9}$/.test(into) ? { name, into: Number(into) } : { name };
}

/** Why a thing could not be taken out: who needs it, each with the way there; else what would be wrong without it. */
function stays(build: Build, { list, key }: Asked, problems: readonly Problem[]): Pick<OpenForm, 'problems' | 'needs'> {
  if (list === 'build') return { problems };
  const { key: own, thing } = thingNamed(build, list, key!);
  const needs = needsOf(build, list, own);
  if (needs.length > 0) return { problems: [], needs };
  return { problems: [wordedProblem('unknown-name', '', key, say.stays(thingName(list, thing))), ...problems] };
}

function thingNamed(build: Build, list: EditList, named: string): NonNullable<ReturnType<typeof findThing>> {
  const found = findThing(build, list, named);
  if (found === null) throw new Refusal(404, say.gone(say.thing[list], named));
  return found;
}

function conflictProblem(it: Problem, present: number): Problem {
  return inWords(it, `${messageOf(it)} ${say.conflict(present)}`);
}

/** The changes that a button asks for, and what the thing is called in addresses after them. */
function changesAsked(
  build: Build,
  { list, key }: Asked,
  action: string,
  values: FormValues,
): Result<{ readonly changes: readonly Change[]; readonly key: string | null }> {
  const asks = (changes: readonly Change[]) => ({ ok: true, value: { changes, key } }) as const;
  if (list === 'build') return asks(savedBuild(build, values));
  if (key === null) return withAnswer(build, list, null, savedChanges(build, list, null, values));
  const { key: own, thing } = thingNamed(build, list, key);
  if (action === 'hazards' || action === 'no-hazards') {
    const value = action === 'hazards' ? [values.hazards ?? []].flat() : [];
    const looked: Change[] =
      thing.hazardsGuessed === undefined ? [] : [{ kind: 'set', list, key: own, field: 'hazardsGuessed' }];
    return asks([{ kind: 'set', list, key: own, field: 'hazards', value }, ...looked]);
  }
  if (action === 'remove') return asks([{ kind: 'remove', list, key: own }]);
  const saved = withAnswer(build, list, own, savedChanges(build, list, own, values));
  if (!saved.ok || list === 'feeds') return saved.ok ? asks(saved.value.changes) : saved;
  const placed = placedChanges(build, list, own, values.place);
  if (!placed.ok) return placed;
  return { ok: true, value: { ...saved.value, changes: [...saved.value.changes, ...placed.value] } };
}

/** A decision's answers are tried on the build as they are typed; deciding for one makes what it carries. */
function withAnswer(build: Build, list: EditList, key: string | null, saved: Result<FormChanges>): Result<FormChanges> {
  if (list !== 'decisions' || !saved.ok) return saved;
  const made = applyChanges(build, saved.value.changes);
  const decision = made.ok ? (thingAt(made.value, list, saved.value.key) as Decision | null) : null;
  if (decision === null) return saved;
  const problems = answerProblems(build, decision);
  if (problems.length > 0) return { ok: false, problems };
  const before = key === null ? null : (thingAt(build, list, key) as Decision | null);
  return {
    ok: true,
    value: { ...saved.value, changes: [...saved.value.changes, ...decidingChanges(before, decision)] },
  };
}

/** Back to the page, to where the thing is. */
function afterwards(build: Build, screen: Screen, { list, key }: Asked, now: string | null): string {
  const href = screenHref(build.id, screen);
  return list === 'build' || key === null || now === null ? href : `${href}#${list}-${encodeURIComponent(now)}`;
}

interface PostedForm {
  readonly action: string;
  readonly revision: number;
  readonly values: FormValues;
  readonly ripple: PostedRipple;
  /** Null: the form does not ask what it is to be kept as. */
  readonly keep: Pick<KeepAs, 'name' | 'into'> | null;
}

function postedForm(body: unknown): PostedForm {
  const values: Record<string, string | readonly string[]> = {};
  for (const [name, value] of Object.entries((body ?? {}) as Record<string, unknown>)) {
    if (typeof value === 'string') values[name] = value;
    else if (Array.isArray(value)) values[name] = value.map(String);
  }
  const { posted, rest: own } = splitRipple(values);
  const { do: action, edit: revision, 'option-name': name, 'option-into': into, ...rest } = own;
  const keep = name === undefined ? null : { name: String(name), into: String(into ?? '') };
  // The hidden first button stands for Enter; a press on another sends its own value alone.
  return { action: String(action ?? 'save'), revision: Number(revision), values: rest, keep, ripple: posted };
}
