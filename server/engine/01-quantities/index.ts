/** How many: from parameters and formulas to the count of every part. */

/**
 * Amounts, spans and estimates of a build as plain numbers: numbers pass, formulas are computed, durations are read.
 */
export { createEvaluator, type Evaluator, readDuration } from './amounts.ts';

/** The values of all parameters of a design. */
export { solveParameters } from './formula.ts';

/** Everything a formula may call, with a worked example each. */
export { formulaList } from './formula-list.ts';

/** From the text of a formula to its tree, with the place of every fault. */
export { parseFormula } from './formula-syntax.ts';

/** The limits of a design at one set of values. */
export { isBroken, type LimitValue, limitValues } from './limit-values.ts';

/** Which steps each part has of its own. */
export { stepsOfPart } from './own-steps.ts';

/** From the design to counts: parameters and formulas, then the parts by explosion of the bill of materials. */
export { costOf, inWholePacks, type PartCount, type Quantities, quantitiesOf, unitsToSpare } from './quantities.ts';

/** What depends on what: parameters, drawings and counts, and all that follows from them. */
export { dependentsOf, namesInAmount, type Tied, type TieKind, type Ties, tiesOf } from './ties.ts';

/** Parts that may come about in several ways: the build by the ways that are chosen, as if there were no others. */
export { type Chosen, chosenOf, shareId, wholesOf } from './ways.ts';
/** What counting says of the share of a part that comes out good, by its estimate and by what was scrapped. */
export { hasLead, impliedOrderId, learntYields } from './yield-learning.ts';
