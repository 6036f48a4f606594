/**
 * An independent judge of forecasts: what the build and its log ask of a plan, read from them and from nothing that the
 * engine made of them, compared with where the forecast lays each lot. Slow and plain on purpose; it knows the builds
 * of `lively-builds.ts`: links by the clock, counts that are numbers.
 */
import type { After, Build, Forecast, ForecastLot, ForecastStep, LogEntry } from '../../../server/model/index.ts';

interface Case {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly forecast: Forecast;
}

/** Everything in which the plan is not what the build asks for, in words. */
export function faultsOfForecast(given: Case): string[] {
  return [
    ...unitFaults(given),
    ...feedFaults(given),
    ...linkFaults(given),
    ...gateFaults(given),
    ...siteFaults(given),
    ...crewFaults(given),
    ...boundFaults(given),
  ];
}

/** Instants that a number of a forecast may be: none is a sentinel. */
const YEARS = [2000, 2200].map((year) => Date.UTC(year, 0) / 60_000) as [number, number];
/** Beyond this a number is an instant; below it, no instant of any build. */
const GREAT = 5_000_000;
const INSTANTS =
  /^(start|finish|at|from|until|target|earlyStart|earlyFinish|lateStart|lateFinish|lastStart|lastFinish|readyAt|finishAt|backAt|since|p10|p50|p80|p90|p95|event|loadIn|readyBy|now|[a-z]+At|[a-z]+By)$/;

/** Numbers of a forecast that stand for none, for beyond, or for nowhere, by where they are. */
export function sentinelsIn(value: unknown, path = ''): string[] {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) return [`${path}: ${value}`];
    const isGreat = Math.abs(value) > GREAT && !/(cost|price|minutes)/i.test(path);
    return isGreat && !(value > YEARS[0] && value < YEARS[1]) ? [`${path}: ${value}`] : [];
  }
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    const isIndex = /^(machineUnit|set|number|firstUnit|lot|step)$/.test(key) && typeof inner === 'number' && inner < 0;
    const isNoInstant = INSTANTS.test(key) && !path.includes('fans') && inner === -1;
    return [...(isIndex || isNoInstant ? [`${path}.${key}: ${inner}`] : []), ...sentinelsIn(inner, `${path}.${key}`)];
  });
}

function stepOf({ forecast }: Case, id: string): ForecastStep {
  return forecast.steps.find((step) => step.id === id)!;
}

function lotsOf({ forecast }: Case, step: string, set: number | null = null): ForecastLot[] {
  return forecast.lots.filter((lot) => lot.step === step && (set === null || lot.set === set));
}

const startOf = (lot: ForecastLot) => lot.levelled!.start;
const finishOf = (lot: ForecastLot) => lot.levelled!.finish;

/** Every unit that is left lies in one lot, and no other does. */
function unitFaults({ forecast }: Case): string[] {
  return forecast.steps.flatMap((step) => {
    const units = forecast.lots
      .filter((lot) => lot.step === step.id)
      .reduce((sum, { firstUnit, lastUnit }) => sum + lastUnit - firstUnit + 1, 0);
    return units === step.left ? [] : [`${step.id}: ${units} units in lots, ${step.left} left`];
  });
}

/** A unit of `to` takes so many of `from`, of those still to be made so many come out good. */
interface UnitFeed {
  readonly from: string;
  readonly to: string;
  readonly ratio: number;
  readonly share: number;
  readonly onHand: number;
}

function unitFeedsOf({ parts = [], steps }: Build): UnitFeed[] {
  const typed = new Set(steps.flatMap(({ id, after = [] }) => after.map((one) => `${stepOfAfter(one)}>${id}`)));
  const feeds = parts.flatMap((part): UnitFeed[] => {
    const route = steps.filter((step) => step.part === part.id);
    const inRoute = route
      .slice(1)
      .map((step, i): UnitFeed => ({ from: route[i]!.id, to: step.id, ratio: 1, share: 1, onHand: 0 }));
    const last = route.at(-1);
    const users = (part.usedIn ?? []).flatMap(({ part: parent, count }): UnitFeed[] => {
      const first = steps.find((step) => step.part === parent);
      if (last === undefined || first === undefined) return [];
      const { yield: share = 1, onHand = 0 } = part;
      return [{ from: last.id, to: first.id, ratio: Number(count), share, onHand }];
    });
    return [...inRoute, ...users];
  });
  return feeds.filter(({ from, to }) => !typed.has(`${from}>${to}`));
}

/**
 * At the moment at which a lot begins, what all its step's units up to then have in them is there: counted, on the
 * shelf, or finished by then, less what is lost on the way; or all of it is finished.
 */
function feedFaults(given: Case): string[] {
  return unitFeedsOf(given.build).flatMap((feed) => {
    const [from, to] = [stepOf(given, feed.from), stepOf(given, feed.to)];
    const bySet = from.sets.length > 1 && to.sets.length > 1;
    const scopes = bySet ? [null, ...to.sets.map(({ set }) => set)] : [null];
    return scopes.flatMap((set) => {
      const own = (step: typeof from) => step.sets.find((one) => set !== null && one.set === set) ?? step;
      const [source, user] = [own(from), own(to)];
      const shelf = set === null ? feed.onHand : feed.onHand / to.sets.length;
      const sources = lotsOf(given, feed.from, set);
      const users = lotsOf(given, feed.to, set).sort((a, b) => startOf(a) - startOf(b));
      let units = user.done;
      return users.flatMap((lot) => {
        units += lot.lastUnit - lot.firstUnit + 1;
        if (lot.begun) return [];
        const made = sources
          .filter((one) => finishOf(one) <= startOf(lot))
          .reduce((sum, { firstUnit, lastUnit }) => sum + lastUnit - firstUnit + 1, 0);
        const isThere = source.done + feed.share * made + shelf + 1e-9 >= Math.floor(units * feed.ratio - 1e-9);
        return made >= source.left || isThere
          ? []
          : [`${lot.id}: ${units} units begun with ${source.done} + ${made} of ${feed.from} at ${feed.ratio} each`];
      });
    });
  });
}

function stepOfAfter(after: After): string {
  return typeof after === 'string' ? after : after.step;
}

/** Each link that the maker typed, by the clock, between what is not done yet; set by set where both have sets. */
function linkFaults(given: Case): string[] {
  return given.build.steps.flatMap(({ id, after = [] }) =>
    after.flatMap((one) => {
      const { step, type = 'finish-start', lag = 0, lagIn = 'clock' } = typeof one === 'string' ? { step: one } : one;
      // Nothing waits for spares, and which lots are spares the plan alone says.
      const part = given.build.parts?.find((own) => own.id === stepOf(given, step).part);
      if (Number(part?.spares ?? 0) > 0) return [];
      if (type === 'units' || lagIn !== 'clock' || typeof lag !== 'number') return [];
      const [head, tail] = type.split('-') as ['finish' | 'start', 'finish' | 'start'];
      const bySet = stepOf(given, step).sets.length > 1 && stepOf(given, id).sets.length > 1;
      return (bySet ? stepOf(given, id).sets.map(({ set }) => set) : [null]).flatMap((set) => {
        const sources = lotsOf(given, step, set);
        const isBegun = sources.some(({ begun }) => begun) || given.log.some((entry) => entry.step === step);
        const targets = lotsOf(given, id, set).filter(({ begun }) => tail === 'finish' || !begun);
        // What has happened already is an instant of the log, which the plan reads, not this judge.
        if (targets.length === 0 || sources.length === 0 || (head === 'start' && isBegun)) return [];
        const at = head === 'finish' ? Math.max(...sources.map(finishOf)) : Math.min(...sources.map(startOf));
        const ends = targets.map(finishOf);
        const bound = tail === 'finish' ? Math.max(...ends) : Math.min(...targets.map(startOf));
        return bound >= at + lag ? [] : [`${type} from ${step} to ${id}: ${at} + ${lag} > ${bound}`];
      });
    }),
  );
}

/**
 * A gate comes after what it checks and before what waits for it; with *prove first*, what waits for it in the other
 * sets comes after the first set's; and what it sent back is done again before its next try.
 */
function gateFaults(given: Case): string[] {
  return (given.build.gates ?? []).flatMap((gate) => {
    const tries = lotsOf(given, gate.id);
    return tries.flatMap((next) => {
      const within = (step: string) =>
        lotsOf(given, step, stepOf(given, step).sets.length > 1 ? next.set : null).filter(({ begun }) => !begun);
      const checked = gate.after.flatMap(within);
      const again = (gate.sendsBack ?? []).flatMap(({ step }) =>
        within(step).slice(0, sentBack(given, step, next.set) > 0 ? 1 : 0),
      );
      const waiting = (gate.before ?? []).flatMap(within);
      const others =
        gate.proveFirst && next.set === 1
          ? (gate.holds ?? gate.before ?? []).flatMap((step) => lotsOf(given, step)).filter(({ begun }) => !begun)
          : [];
      return [
        ...[...checked, ...again]
          .filter((lot) => finishOf(lot) > startOf(next))
          .map((lot) => `${next.id} is tried at ${startOf(next)}, ${lot.id} ends at ${finishOf(lot)}`),
        ...[...waiting, ...others]
          .filter((lot) => startOf(lot) < finishOf(next))
          .map((lot) => `${lot.id} begins at ${startOf(lot)}, ${next.id} is passed at ${finishOf(next)}`),
      ];
    });
  });
}

/** Units sent back that were not counted again. */
function sentBack({ log }: Case, step: string, set: number | null): number {
  return log
    .filter((entry) => entry.step === step && (set === null || (entry.set ?? set) === set))
    .reduce(
      (units, { kind, n = 1 }) => Math.max(0, units + (kind === 'sent-back' ? n! : kind === 'done' ? -n! : 0)),
      0,
    );
}

function siteFaults({ build, forecast }: Case): string[] {
  const onSite = new Set(build.steps.filter((step) => step.onSite).map(({ id }) => id));
  return forecast.lots
    .filter((lot) => onSite.has(lot.step) && !lot.begun && startOf(lot) < forecast.loadIn!)
    .map((lot) => `${lot.id}: on site at ${startOf(lot)}, before the load-in`);
}

/** So many people at once as the phase asks for, nobody in two places, and somebody at what may not be left alone. */
function crewFaults({ build, forecast }: Case): string[] {
  const attended = new Set((build.machines ?? []).filter((one) => one.unattended === false).map(({ id }) => id));
  const asked = new Map(
    build.steps.map(({ id, phases = [] }) => [
      id,
      phases.flatMap((one) => (one.kind === 'hands' ? [one.people ?? 1] : [])),
    ]),
  );
  const busy = forecast.lots.flatMap((lot) =>
    lot.placements.flatMap(({ people, start, finish }) =>
      people.map((person) => ({ person, start, finish, lot: lot.id })),
    ),
  );
  const faults = forecast.lots.flatMap((lot) =>
    lot.placements.flatMap(({ kind, people, machine, start, finish }) => {
      const counts = asked.get(lot.step) ?? [];
      if (kind === 'hands' && finish > start && counts.length > 0 && !counts.includes(people.length))
        return [`${lot.id}: ${people.length} people`];
      const isAlone = kind === 'run' && machine !== null && attended.has(machine) && people.length === 0;
      return isAlone && finish > start ? [`${lot.id}: nobody stays`] : [];
    }),
  );
  for (const [i, a] of busy.entries()) {
    for (const b of busy.slice(i + 1)) {
      if (a.person === b.person && a.start < b.finish && b.start < a.finish && a.lot !== b.lot)
        faults.push(`${a.person} is at ${a.lot} and ${b.lot}`);
    }
  }
  return faults;
}

/** Nothing ends before what no order of work can beat. */
function boundFaults({ forecast }: Case): string[] {
  const { lots, lowerBound, room } = forecast;
  const early = lots
    .filter(({ dates, levelled }) => dates.earlyFinish !== null && levelled!.finish < dates.earlyFinish)
    .map((lot) => `${lot.id}: ends at ${finishOf(lot)}, at ${lot.dates.earlyFinish} at its earliest`);
  const ready = room.readyBy.finish;
  if (ready !== null && lowerBound !== null && lowerBound.readyAt !== null && lowerBound.readyAt > ready)
    early.push(`ready at ${ready}, bound ${lowerBound.readyAt}`);
  return early;
}
