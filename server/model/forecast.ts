/**
 * Everything the tool says of a build: what the engine returns, the store keeps, `daywright plan --json` prints and the
 * views show. Plain data. Instants are whole minutes since the epoch (UTC), lengths whole minutes, unless a name says
 * otherwise.
 */
import type { ForecastBalance } from './answers/balance.ts';
import type { CapacityGroup, ForecastLot, LowerBound, Room, WhyLine } from './answers/dates.ts';
import type { BurnLine, DaySheet, ForecastFirstPlan } from './answers/days.ts';
import type {
  ForecastLimit,
  ForecastParameter,
  ForecastPart,
  ForecastUncertain,
  ParameterUse,
} from './answers/design.ts';
import type { ForecastDecision, ForecastDue, ForecastOrder } from './answers/dues.ts';
import type { FreeUntil } from './answers/levers.ts';
import type { ForecastRisk, RiskFrom } from './answers/risk.ts';
import type { ForecastShow } from './answers/show.ts';
import type { ForecastStep } from './answers/steps.ts';
import type { ForecastLoads, ForecastMoney, ForecastSupply } from './answers/supplies.ts';
import type { Doubt, Missing, SoundnessCheck, Threat, WorkHoursWarning } from './findings.ts';
import type { Problem } from './problem.ts';

/**
 * Raise it whenever what a forecast holds, or how it is worked out, changes: what an older program has kept on disk is
 * then computed again instead of shown.
 */
export const FORECAST_FORMAT = 60;

/**
 * A better order of work that is known but not worth what it upsets: working minutes it would gain, lots it would move.
 */
interface KeptOrder {
  readonly minutes: number;
  readonly upsets: number;
}

export interface Forecast {
  readonly build: { readonly id: string; readonly name: string; readonly zone: string };
  readonly now: number;
  readonly start: number | null;
  readonly event: number;
  readonly loadIn: number | null;
  readonly readyBy: number;
  readonly setCount: number;
  readonly setName: string;
  readonly currency: string;
  readonly confidence: number;
  readonly parameters: readonly ForecastParameter[];
  readonly uses: readonly ParameterUse[];
  /** Left out of what an older program kept. */
  readonly limits?: readonly ForecastLimit[];
  readonly uncertain?: readonly ForecastUncertain[];
  readonly parts: readonly ForecastPart[];
  readonly steps: readonly ForecastStep[];
  readonly lots: readonly ForecastLot[];
  /** Lot ids from now to the end, hands and machines unlimited. */
  readonly criticalPath: readonly string[];
  /**
   * What somebody must say before there is a date, or a chance; none where all is said. Left out of what an older
   * program kept.
   */
  readonly missing?: readonly Missing[];
  readonly room: { readonly readyBy: Room; readonly loadIn: Room | null; readonly event: Room };
  readonly lowerBound: LowerBound | null;
  /** From now to the ready finish. */
  readonly why?: readonly WhyLine[];
  readonly keptOrder?: KeptOrder | null;
  readonly capacity: readonly CapacityGroup[];
  readonly orders: readonly ForecastOrder[];
  /** What comes from outside, what is urgent first. Left out of what an older program kept, as the two below. */
  readonly supplies?: readonly ForecastSupply[];
  /**
   * Where the ready-by is missed as planned: until when what is to be ordered and decided can wait before it costs the
   * planned finish something; left out where it is kept.
   */
  readonly freeUntil?: readonly FreeUntil[];
  readonly loads?: readonly ForecastLoads[];
  readonly money?: ForecastMoney;
  readonly decisions: readonly ForecastDecision[];
  /** What has a due instant of its own, the earliest first; none where nothing has. */
  readonly dues?: readonly ForecastDue[];
  readonly days: readonly DaySheet[];
  readonly burn: readonly BurnLine[];
  readonly firstPlan?: ForecastFirstPlan | null;
  /** null where nothing could be placed. */
  readonly balance?: ForecastBalance | null;
  readonly workHours: readonly WorkHoursWarning[];
  /** Errors name what had to be left out, warnings what to look at. */
  readonly problems: readonly Problem[];
  /** What is kept and planned with, but should be looked at. */
  readonly doubts: readonly Doubt[];
  /** Left out of a first answer; null when there is nothing to draw, or a step that nobody may do. */
  readonly risk?: ForecastRisk | null;
  /** Where the risk is not this forecast's own: the older state that it was drawn from, until the new one is. */
  readonly riskFrom?: RiskFrom;
  /** Worst first; none when all is well. */
  readonly threats?: readonly Threat[];
  /** The checks that apply now, those that are fine too. */
  readonly soundness?: readonly SoundnessCheck[];
  /** Boxes, ways to the site, points, run sheet, open points. Left out of what an older program kept. */
  readonly show?: ForecastShow;
  /** False when something could not be scheduled: dates are then of what remains. */
  readonly complete: boolean;
}
