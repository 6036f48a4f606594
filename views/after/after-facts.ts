/** Estimated against real, line by line: hands, machines, waits, gates, scrap, suppliers. */
import type { ForecastStep } from '../../server/model/index.ts';
import type { BuildPage } from '../types.ts';

export const AFTER_KINDS = ['hands', 'run', 'wait', 'gate', 'scrap', 'lead'] as const;

/**
 * One thing that was estimated and has happened: minutes for a unit (`hands`) or a load (`run`, `wait`), the share of
 * tries that failed (`gate`), the share that was scrapped (`scrap`), working days (`lead`). `estimated` null: nobody
 * had said.
 */
export interface AfterLine {
  readonly kind: (typeof AFTER_KINDS)[number];
  readonly id: string;
  readonly name: string;
  readonly estimated: number | null;
  readonly real: number;
  /** Units, loads, tries or deliveries that it is from. */
  readonly counted: number;
}

/** All that has been counted of a build beside what was thought, in the order of its steps; none before a count. */
export function afterLines({ build, forecast }: BuildPage): AfterLine[] {
  const { steps, parts, orders } = forecast;
  const leads = new Map(
    orders.flatMap(({ supplier, lead }) => (lead === undefined ? [] : [[supplier, lead] as const])),
  );
  return [
    ...steps.flatMap(handsLine),
    ...steps.flatMap(loadLine),
    ...steps.flatMap((step) => gateLine(step, build.gates?.find(({ id }) => id === step.id)?.failChance)),
    ...parts.flatMap(({ id, name, yieldLearnt: learnt }): AfterLine[] =>
      learnt === undefined || learnt.tried === 0
        ? []
        : [
            {
              ...{ kind: 'scrap', id, name, estimated: 1 - learnt.given },
              ...{ real: learnt.scrapped / learnt.tried, counted: learnt.tried },
            },
          ],
    ),
    ...[...leads].map(([id, { given, taken, deliveries }]): AfterLine => {
      const name = build.suppliers?.find((one) => one.id === id)?.name ?? id;
      return { kind: 'lead', id, name, estimated: given, real: taken, counted: deliveries };
    }),
  ];
}

function handsLine({ id, name, pace }: ForecastStep): AfterLine[] {
  if (pace == null || pace.units <= 0) return [];
  const { estimate, minutes, units } = pace;
  return [{ kind: 'hands', id, name, estimated: estimate, real: minutes / units, counted: units }];
}

function loadLine({ id, name, runTime }: ForecastStep): AfterLine[] {
  if (runTime === undefined || runTime.loads === 0) return [];
  const { kind, estimate, counted, loads } = runTime;
  return [{ kind, id, name, estimated: estimate, real: counted, counted: loads }];
}

function gateLine({ id, name, gate }: ForecastStep, failChance: number | undefined): AfterLine[] {
  if (gate === undefined || gate.tries === 0) return [];
  const { tries, failures } = gate;
  return [{ kind: 'gate', id, name, estimated: failChance ?? null, real: failures / tries, counted: tries }];
}
