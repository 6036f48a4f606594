/** Risk: thousands of futures of the levelled schedule, and what they come to. */
export { type RiskOptions, riskOf } from './risk.ts';
