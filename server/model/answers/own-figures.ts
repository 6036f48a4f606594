/** What was measured in a build and may begin the next one. */
import type { Build } from '../build.ts';
import type { Change } from '../changes/change.ts';
import type { Forecast } from '../forecast.ts';

export const OWN_KINDS = ['pace', 'yield', 'lead'] as const;

/**
 * A figure by the name of what it is of: minutes of hands for a unit of a step (`pace`), the share of a part that came
 * out good (`yield`), working days of a supplier (`lead`); from how many units, or deliveries.
 */
export interface OwnFigure {
  readonly kind: (typeof OWN_KINDS)[number];
  readonly name: string;
  readonly value: number;
  readonly counted: number;
  readonly build: string;
  readonly buildName: string;
}

/** A figure of an earlier build for a thing of this one, with the changes that take it. */
export interface OwnOffer {
  readonly figure: OwnFigure;
  readonly list: 'steps' | 'parts' | 'suppliers';
  readonly key: string;
  /** What this build says now; null: nothing. */
  readonly present: number | null;
  readonly changes: readonly Change[];
}

/** Figures of the last build count; fewer units than this say little (a rule of ours). */
const FEWEST_COUNTED = 5;

/**
 * What a forecast has measured, ready to be kept: a lead time as deliveries took it on average, to whole days. A pace
 * or a yield of fewer than five units is left out.
 */
export function measuredIn({ steps, parts, orders }: Forecast, build: Build): Omit<OwnFigure, 'build' | 'buildName'>[] {
  const names = new Map((build.suppliers ?? []).map(({ id, name }) => [id, name]));
  const leads = new Map(
    orders.flatMap(({ supplier, lead }) => (lead === undefined ? [] : [[supplier, lead] as const])),
  );
  return [
    ...steps.flatMap(({ name, pace }) =>
      pace == null || pace.units < FEWEST_COUNTED
        ? []
        : [{ kind: 'pace' as const, name, value: rounded(pace.minutes / pace.units), counted: Math.round(pace.units) }],
    ),
    ...parts.flatMap(({ name, yieldLearnt }) =>
      yieldLearnt === undefined || yieldLearnt.tried < FEWEST_COUNTED
        ? []
        : [
            {
              kind: 'yield' as const,
              name,
              value: rounded((yieldLearnt.tried - yieldLearnt.scrapped) / yieldLearnt.tried),
              counted: Math.round(yieldLearnt.tried),
            },
          ],
    ),
    ...[...leads].map(([id, { taken, deliveries }]) => ({
      kind: 'lead' as const,
      name: names.get(id) ?? id,
      value: Math.max(0, Math.round(taken)),
      counted: deliveries,
    })),
  ].filter(({ counted, value, kind }) => counted >= 1 && (kind === 'lead' || value > 0));
}

/**
 * The last figure of another build for each step, part and supplier of the same name, capitals aside. Nothing is
 * offered for what says the same already, or is measured.
 */
export function offersFor(build: Build, figures: readonly OwnFigure[]): OwnOffer[] {
  const others = figures.filter((figure) => figure.build !== build.id);
  const last = (kind: OwnFigure['kind'], name: string): OwnFigure | undefined =>
    others.findLast((figure) => figure.kind === kind && sameName(figure.name, name));
  return [
    ...build.steps.flatMap((step) => offerOfStep(step, last('pace', step.name))),
    ...(build.parts ?? []).flatMap((part) => {
      const figure = last('yield', part.name);
      return figure === undefined || part.yield === figure.value
        ? []
        : [offerOfField(figure, 'parts', part.id, 'yield', part.yield ?? null)];
    }),
    ...(build.suppliers ?? []).flatMap((supplier) => {
      const figure = last('lead', supplier.name);
      const present = typeof supplier.lead === 'number' ? supplier.lead : supplier.lead.likely;
      return figure === undefined || present === figure.value
        ? []
        : [offerOfField(figure, 'suppliers', supplier.id, 'lead', present)];
    }),
  ];
}

function offerOfField(
  figure: OwnFigure,
  list: 'parts' | 'suppliers',
  key: string,
  field: string,
  present: number | null,
): OwnOffer {
  return { figure, list, key, present, changes: [{ kind: 'set', list, key, field, value: figure.value }] };
}

/** Only a step whose hands have minutes for each unit can take a pace. */
function offerOfStep({ id, phases = [], origin }: Build['steps'][number], figure: OwnFigure | undefined): OwnOffer[] {
  const at = phases.findIndex((phase) => phase.kind === 'hands' && phase.perUnit !== undefined);
  const paced = phases[at];
  if (figure === undefined || origin === 'measured' || paced?.kind !== 'hands') return [];
  const value = phases.map((phase, i) => (i === at ? { ...phase, perUnit: figure.value } : phase));
  return [
    {
      figure,
      list: 'steps',
      key: id,
      present: typeof paced.perUnit === 'number' ? paced.perUnit : null,
      changes: [
        { kind: 'set', list: 'steps', key: id, field: 'phases', value },
        { kind: 'set', list: 'steps', key: id, field: 'origin', value: 'measured' },
      ],
    },
  ];
}

function sameName(one: string, other: string): boolean {
  return one.trim().toLowerCase() === other.trim().toLowerCase();
}

function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
