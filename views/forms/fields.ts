/** What each thing of a build is edited by: its fields in order. Forms are drawn from this, and read back by it. */
import { HAZARDS, LINK_NAMES, ORIGINS, PARAMETER_ORIGINS, PASSAGE_KINDS, SOURCES } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { EditList } from '../types.ts';

const { field: label, hint, choice, phase, rowOf } = texts.edit;

export interface Choice {
  readonly value: string;
  readonly label: string;
}

/** A word that is looked up when it is shown, in the language of who reads it. */
type Word = () => string;

/** Where the choices of a reference come from. */
export type RefList = 'parameters' | 'parts' | 'suppliers' | 'people' | 'machines' | 'steps' | 'gates';

/**
 * How a field is typed and read: text, note, words (a comma list), lines (one a line), yes (a tick), number, whole,
 * amount (number or formula), span, estimate and quantity and lead (number, formula, trial or range where the model
 * allows them), choice, ref, refs, choices, changes (what an answer sets), rows.
 */
type FieldKind =
  | 'text'
  | 'note'
  | 'words'
  | 'lines'
  | 'yes'
  | 'number'
  | 'whole'
  | 'amount'
  | 'span'
  | 'estimate'
  | 'quantity'
  | 'lead'
  | 'choice'
  | 'choices'
  | 'ref'
  | 'refs'
  | 'changes'
  | 'rows';

export interface Field {
  /** Path in the thing, such as `express.lead`. */
  readonly key: string;
  readonly label: Word;
  readonly kind: FieldKind;
  readonly hint?: Word;
  readonly choices?: () => readonly Choice[];
  readonly ref?: RefList;
  readonly rows?: readonly Field[];
  /** What one of the rows is. */
  readonly row?: { readonly one: string; readonly add: string };
  /** Row kinds (of a work pattern) that have this field. */
  readonly only?: readonly string[];
  /** Asked for only when the thing is new: names that others refer to do not change. */
  readonly onlyNew?: boolean;
  readonly input?: 'date' | 'time' | 'datetime-local';
  /** A share of one, which may be typed in percent. */
  readonly isShare?: boolean;
  /** Shown folded away, since few need it. */
  readonly rare?: boolean;
}

const id: Field = { key: 'id', label: () => label.id, kind: 'text', hint: () => hint.id, onlyNew: true, rare: true };
const name: Field = { key: 'name', label: () => label.name, kind: 'text' };
const note: Field = { key: 'note', label: () => label.note, kind: 'note', rare: true };
const parameterOrigin: Field = {
  key: 'origin',
  label: () => label.origin,
  kind: 'choice',
  choices: () => named(PARAMETER_ORIGINS, texts.origin),
};
const origin: Field = {
  key: 'origin',
  label: () => label.origin,
  kind: 'choice',
  choices: () => named(ORIGINS, texts.origin),
};

const people: Field = { key: 'people', label: () => label.people, kind: 'whole' };
const who: Field = { key: 'who', label: () => label.who, kind: 'refs', ref: 'people' };

const hazards: Field = {
  key: 'hazards',
  label: () => label.hazards,
  kind: 'choices',
  choices: () => named(HAZARDS, choice.hazard),
};

const exceptions: Field = {
  key: 'exceptions',
  label: () => label.exceptions,
  kind: 'rows',
  row: rowOf.exceptions,
  rows: [
    { key: 'date', label: () => label.date, kind: 'text', input: 'date' },
    { key: 'hours', label: () => label.hoursThatDay, kind: 'text', hint: () => hint.hoursThatDay },
    { key: 'note', label: () => label.note, kind: 'text' },
  ],
};

const sizeFields: readonly Field[] = [
  { key: 'width', label: () => label.width, kind: 'number', hint: () => hint.millimetres },
  { key: 'height', label: () => label.height, kind: 'number', hint: () => hint.millimetres },
  { key: 'depth', label: () => label.depth, kind: 'number', hint: () => hint.depth },
];

const linkFields: readonly Field[] = [
  { key: 'type', label: () => label.type, kind: 'choice', choices: () => named(LINK_NAMES, choice.link) },
  { key: 'ratio', label: () => label.ratio, kind: 'amount' },
  { key: 'headStart', label: () => label.headStart, kind: 'whole' },
  { key: 'lag', label: () => label.lag, kind: 'span' },
  {
    key: 'lagIn',
    label: () => label.lagIn,
    kind: 'choice',
    choices: () => named(['clock', 'working'] as const, choice.lagIn),
  },
];

/** A link of the work pattern; which fields it has depends on its kind. */
const phaseFields: readonly Field[] = [
  { key: 'machine', label: () => label.machine, kind: 'ref', ref: 'machines', only: ['run'] },
  { key: 'supplier', label: () => label.supplier, kind: 'ref', ref: 'suppliers', only: ['lead'] },
  { key: 'minutes', label: () => label.minutes, kind: 'span', hint: () => hint.span, only: ['hands', 'run', 'wait'] },
  { key: 'perUnit', label: () => label.perUnit, kind: 'estimate', hint: () => hint.estimate, only: ['hands', 'run'] },
  { key: 'attended', label: () => label.attended, kind: 'yes', only: ['run'] },
  { ...people, only: ['hands', 'run'] },
  { ...who, only: ['hands', 'run'] },
  { key: 'oneGo', label: () => label.oneGo, kind: 'yes', only: ['hands'] },
  { key: 'days', label: () => label.days, kind: 'lead', hint: () => hint.lead, only: ['lead'] },
  { key: 'express', label: () => label.express, kind: 'yes', only: ['lead'] },
];

const KINDS = ['hands', 'run', 'wait', 'lead'] as const;

export const phaseKinds = (): readonly Choice[] => named(KINDS, phase);
/** The buttons under a work pattern. */
export const addPhase = (): readonly Choice[] => named(KINDS, texts.edit.addPhase);

/** What a form sends that puts a thing at the end of its list; no key of a thing reads so. */
export const LAST_PLACE = '@end';

export const FIELDS: Readonly<Record<EditList | 'build', readonly Field[]>> = {
  build: [
    name,
    { key: 'zone', label: () => label.zone, kind: 'text', hint: () => hint.zone },
    { key: 'start', label: () => label.start, kind: 'text', input: 'datetime-local', hint: () => hint.wall },
    { key: 'readyBy', label: () => label.readyBy, kind: 'text', input: 'datetime-local', hint: () => hint.readyBy },
    { key: 'loadIn', label: () => label.loadIn, kind: 'text', input: 'datetime-local', hint: () => hint.wall },
    { key: 'event', label: () => label.event, kind: 'text', input: 'datetime-local', hint: () => hint.wall },
    {
      key: 'strikeFrom',
      label: () => label.strikeFrom,
      kind: 'text',
      input: 'datetime-local',
      hint: () => hint.strikeFrom,
      rare: true,
    },
    { key: 'forPublic', label: () => label.forPublic, kind: 'yes', hint: () => hint.forPublic, rare: true },
    { key: 'certificate', label: () => label.certificate, kind: 'text', hint: () => hint.certificate, rare: true },
    { key: 'sets.count', label: () => label.setsCount, kind: 'amount', hint: () => hint.sets },
    { key: 'sets.name', label: () => label.setsName, kind: 'text' },
    { key: 'confidence', label: () => label.confidence, kind: 'number', hint: () => hint.share, rare: true },
    { key: 'askedChance', label: () => label.askedChance, kind: 'number', hint: () => hint.askedChance, rare: true },
    { key: 'hourWorth', label: () => label.hourWorth, kind: 'number', hint: () => hint.hourWorth, rare: true },
    { key: 'contingency', label: () => label.contingency, kind: 'number', hint: () => hint.contingency, rare: true },
    { key: 'currency', label: () => label.currency, kind: 'text', rare: true },
    note,
  ],
  parameters: [
    { key: 'name', label: () => label.name, kind: 'text', hint: () => hint.parameterName },
    { key: 'quantity', label: () => label.quantity, kind: 'quantity', hint: () => hint.quantity },
    { key: 'unit', label: () => label.unit, kind: 'text' },
    { key: 'atLeast', label: () => label.atLeast, kind: 'number', hint: () => hint.atLeast, rare: true },
    parameterOrigin,
    note,
  ],
  limits: [
    name,
    id,
    { key: 'of', label: () => label.of, kind: 'amount', hint: () => hint.limitOf },
    { key: 'least', label: () => label.least, kind: 'amount', hint: () => hint.amount },
    { key: 'most', label: () => label.most, kind: 'amount', hint: () => hint.amount },
    { key: 'unit', label: () => label.unit, kind: 'text' },
    {
      key: 'parts',
      label: () => label.limitParts,
      kind: 'refs',
      ref: 'parts',
      hint: () => hint.limitParts,
      rare: true,
    },
    note,
  ],
  parts: [
    name,
    id,
    { key: 'source', label: () => label.source, kind: 'choice', choices: () => named(SOURCES, choice.source) },
    { key: 'count', label: () => label.count, kind: 'amount', hint: () => hint.partCount },
    {
      key: 'usedIn',
      label: () => label.usedIn,
      kind: 'rows',
      row: rowOf.usedIn,
      rows: [
        { key: 'part', label: () => label.part, kind: 'ref', ref: 'parts' },
        { key: 'count', label: () => label.count, kind: 'amount' },
        { key: 'way', label: () => label.onlyWay, kind: 'text' },
      ],
    },
    { key: 'spares', label: () => label.spares, kind: 'amount', hint: () => hint.amount },
    { key: 'unit', label: () => label.measuredIn, kind: 'text', hint: () => hint.measuredIn },
    { key: 'waste', label: () => label.waste, kind: 'number', hint: () => hint.waste, rare: true },
    { key: 'failures', label: () => label.failures, kind: 'number', hint: () => hint.failures, rare: true },
    {
      key: 'failShare',
      label: () => label.failShare,
      kind: 'number',
      isShare: true,
      hint: () => hint.failShare,
      rare: true,
    },
    { key: 'due', label: () => label.due, kind: 'text', input: 'datetime-local', hint: () => hint.due },
    { key: 'yield', label: () => label.yield, kind: 'number', isShare: true, hint: () => hint.share },
    { key: 'onHand', label: () => label.onHand, kind: 'number' },
    { key: 'supplier', label: () => label.supplier, kind: 'ref', ref: 'suppliers' },
    { key: 'unitCost', label: () => label.unitCost, kind: 'number', hint: () => hint.unitCost },
    { key: 'onceCost', label: () => label.onceCost, kind: 'number', hint: () => hint.onceCost, rare: true },
    {
      key: 'ways',
      label: () => label.ways,
      kind: 'rows',
      row: rowOf.ways,
      hint: () => hint.ways,
      rows: [
        name,
        { key: 'id', label: () => label.id, kind: 'text', hint: () => hint.id },
        { key: 'source', label: () => label.source, kind: 'choice', choices: () => named(SOURCES, choice.source) },
        { key: 'supplier', label: () => label.supplier, kind: 'ref', ref: 'suppliers' },
        { key: 'unitCost', label: () => label.unitCost, kind: 'number' },
        { key: 'onceCost', label: () => label.onceCost, kind: 'number', hint: () => hint.onceCost },
        { key: 'yield', label: () => label.yield, kind: 'number', isShare: true, hint: () => hint.share },
        { key: 'units', label: () => label.wayUnits, kind: 'amount', hint: () => hint.wayUnits },
        { key: 'note', label: () => label.note, kind: 'text' },
      ],
    },
    { key: 'way', label: () => label.way, kind: 'text', hint: () => hint.way },
    { key: 'packSize', label: () => label.packSize, kind: 'number', hint: () => hint.packSize },
    { key: 'atLeast', label: () => label.atLeast, kind: 'whole', hint: () => hint.atLeast, rare: true },
    { key: 'revision', label: () => label.revision, kind: 'text', rare: true },
    { key: 'dependsOn', label: () => label.dependsOn, kind: 'refs', ref: 'parameters', rare: true },
    note,
  ],
  suppliers: [
    name,
    id,
    { key: 'lead', label: () => label.lead, kind: 'lead', hint: () => hint.lead },
    { key: 'workingDays', label: () => label.workingDays, kind: 'text', hint: () => hint.weekdays },
    { key: 'cutOff', label: () => label.cutOff, kind: 'text', input: 'time', hint: () => hint.cutOff },
    { key: 'deliveryDays', label: () => label.deliveryDays, kind: 'text', hint: () => hint.weekdays },
    { key: 'deliveryTime', label: () => label.deliveryTime, kind: 'text', input: 'time' },
    { key: 'holidays', label: () => label.holidays, kind: 'lines', hint: () => hint.dates },
    { key: 'express.lead', label: () => label.expressLead, kind: 'lead', hint: () => hint.lead },
    { key: 'express.extraCost', label: () => label.expressCost, kind: 'number' },
    note,
  ],
  people: [
    name,
    id,
    { key: 'hours', label: () => label.hours, kind: 'text', hint: () => hint.hours },
    exceptions,
    { key: 'can', label: () => label.can, kind: 'words', hint: () => hint.can },
    { key: 'rate', label: () => label.rate, kind: 'number', hint: () => hint.rate, rare: true },
    note,
  ],
  machines: [
    name,
    id,
    { key: 'count', label: () => label.machineCount, kind: 'whole' },
    { key: 'hours', label: () => label.hours, kind: 'text', hint: () => hint.machineHours },
    { key: 'unattended', label: () => label.unattended, kind: 'yes' },
    { key: 'overnight', label: () => label.overnight, kind: 'yes' },
    { key: 'price', label: () => label.price, kind: 'number', rare: true },
    exceptions,
    note,
  ],
  steps: [
    name,
    id,
    { key: 'part', label: () => label.part, kind: 'ref', ref: 'parts' },
    { key: 'way', label: () => label.onlyWay, kind: 'text', hint: () => hint.onlyWay, rare: true },
    { key: 'count', label: () => label.count, kind: 'amount', hint: () => hint.amount },
    { key: 'perSet', label: () => label.perSet, kind: 'yes' },
    { key: 'phases', label: () => label.phases, kind: 'rows', rows: phaseFields },
    { key: 'takes', label: () => label.takes, kind: 'span', hint: () => hint.takes },
    { key: 'setup', label: () => label.setup, kind: 'span', hint: () => hint.span },
    {
      key: 'setupEach',
      label: () => label.setupEach,
      kind: 'choice',
      choices: () => named(['step', 'lot'] as const, choice.setupEach),
    },
    { key: 'lotSize', label: () => label.lotSize, kind: 'amount', hint: () => hint.lotSize },
    { key: 'stations', label: () => label.stations, kind: 'whole' },
    { key: 'learning', label: () => label.learning, kind: 'number', hint: () => hint.learning },
    origin,
    hazards,
    {
      key: 'after',
      label: () => label.after,
      kind: 'rows',
      row: rowOf.after,
      hint: () => hint.feeds,
      rows: [{ key: 'step', label: () => label.step, kind: 'ref', ref: 'steps' }, ...linkFields],
    },
    { key: 'uses', label: () => label.uses, kind: 'refs', ref: 'parts', hint: () => hint.uses, rare: true },
    { key: 'onSite', label: () => label.onSite, kind: 'yes' },
    { key: 'tools', label: () => label.stepTools, kind: 'lines', hint: () => hint.stepTools, rare: true },
    { key: 'mayDrop', label: () => label.mayDrop, kind: 'yes', rare: true },
    { key: 'skill', label: () => label.skill, kind: 'text', rare: true },
    {
      key: 'notBefore',
      label: () => label.notBefore,
      kind: 'text',
      input: 'datetime-local',
      hint: () => hint.notBefore,
      rare: true,
    },
    { key: 'due', label: () => label.due, kind: 'text', input: 'datetime-local', hint: () => hint.due, rare: true },
    { key: 'pinnedTo', label: () => label.pinnedTo, kind: 'refs', ref: 'people', rare: true },
    {
      key: 'pins',
      label: () => label.pins,
      kind: 'rows',
      row: rowOf.pins,
      hint: () => hint.pins,
      rare: true,
      rows: [
        { key: 'set', label: () => label.pinSet, kind: 'whole' },
        { key: 'from', label: () => label.pinFrom, kind: 'whole' },
        { key: 'to', label: () => label.pinTo, kind: 'whole' },
        { key: 'start', label: () => label.pinStart, kind: 'text', input: 'datetime-local' },
        { key: 'people', label: () => label.pinnedTo, kind: 'refs', ref: 'people' },
      ],
    },
    note,
  ],
  feeds: [
    { key: 'from', label: () => label.from, kind: 'ref', ref: 'steps' },
    { key: 'to', label: () => label.to, kind: 'ref', ref: 'steps' },
    ...linkFields,
    note,
  ],
  gates: [
    name,
    id,
    { key: 'perSet', label: () => label.perSet, kind: 'yes' },
    { key: 'after', label: () => label.afterSteps, kind: 'refs', ref: 'steps' },
    { key: 'before', label: () => label.before, kind: 'refs', ref: 'steps' },
    { key: 'minutes', label: () => label.gateMinutes, kind: 'span', hint: () => hint.span },
    people,
    who,
    { key: 'failChance', label: () => label.failChance, kind: 'number', isShare: true, hint: () => hint.chance },
    {
      key: 'sendsBack',
      label: () => label.sendsBack,
      kind: 'rows',
      row: rowOf.sendsBack,
      rows: [
        { key: 'step', label: () => label.step, kind: 'ref', ref: 'steps' },
        { key: 'units', label: () => label.units, kind: 'amount' },
      ],
    },
    hazards,
    { key: 'signedBy', label: () => label.signedBy, kind: 'text', hint: () => hint.signedBy },
    { key: 'powerOn', label: () => label.powerOn, kind: 'yes', hint: () => hint.powerOn },
    { key: 'proveFirst', label: () => label.proveFirst, kind: 'yes' },
    { key: 'holds', label: () => label.holds, kind: 'refs', ref: 'steps', rare: true },
    { key: 'onSite', label: () => label.onSite, kind: 'yes', hint: () => hint.gateOnSite },
    note,
  ],
  decisions: [
    { key: 'question', label: () => label.question, kind: 'text' },
    id,
    { key: 'waits', label: () => label.waits, kind: 'refs', ref: 'steps' },
    {
      key: 'answers',
      label: () => label.answers,
      kind: 'rows',
      row: rowOf.answers,
      rows: [
        { key: 'name', label: () => label.answer, kind: 'text' },
        { key: 'changes', label: () => label.answerChanges, kind: 'changes', hint: () => hint.answerChanges },
      ],
    },
    { key: 'decided', label: () => label.decided, kind: 'text' },
    note,
  ],
  boxes: [
    name,
    id,
    {
      key: 'parts',
      label: () => label.boxParts,
      kind: 'rows',
      row: rowOf.boxParts,
      rows: [
        { key: 'part', label: () => label.part, kind: 'ref', ref: 'parts' },
        { key: 'count', label: () => label.count, kind: 'amount' },
        { key: 'spare', label: () => label.spare, kind: 'yes' },
      ],
    },
    { key: 'tools', label: () => label.tools, kind: 'lines', hint: () => hint.lines },
    { key: 'kit', label: () => label.kit, kind: 'lines', hint: () => hint.kit },
    ...sizeFields,
    { key: 'weight', label: () => label.weight, kind: 'number', hint: () => hint.weight },
    { key: 'carriers', label: () => label.carriers, kind: 'whole', hint: () => hint.carriers },
    { key: 'upright', label: () => label.upright, kind: 'yes' },
    { key: 'opensAt', label: () => label.opensAt, kind: 'ref', ref: 'steps', hint: () => hint.opensAt },
    { key: 'set', label: () => label.boxSet, kind: 'whole', hint: () => hint.boxSet, rare: true },
    note,
  ],
  passages: [
    name,
    id,
    { key: 'kind', label: () => label.kind, kind: 'choice', choices: () => named(PASSAGE_KINDS, choice.passage) },
    ...sizeFields,
    { key: 'payload', label: () => label.payload, kind: 'number', hint: () => hint.payload },
    note,
  ],
  points: [
    name,
    id,
    { key: 'load', label: () => label.load, kind: 'amount', hint: () => hint.load },
    { key: 'limit', label: () => label.pointLimit, kind: 'number', hint: () => hint.pointLimit },
    { key: 'gate', label: () => label.signGate, kind: 'ref', ref: 'gates', hint: () => hint.signGate },
    { key: 'signedBy', label: () => label.signedBy, kind: 'text', hint: () => hint.signedBy },
    note,
  ],
  strike: [
    name,
    id,
    { key: 'minutes', label: () => label.gateMinutes, kind: 'span', hint: () => hint.span },
    people,
    who,
    note,
  ],
};

function named<K extends string>(values: readonly K[], names: Readonly<Record<K, string>>): Choice[] {
  return values.map((value) => ({ value, label: names[value] }));
}
