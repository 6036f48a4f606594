/** The shapes of a build and what can be wrong with them. */
export * from './balance.ts';
export * from './build.ts';
export * from './changes/index.ts';
export * from './check.ts';
export * from './common.ts';
export * from './findings.ts';
export * from './forecast.ts';
export * from './gate.ts';
export * from './hands.ts';
export * from './ledger.ts';
export * from './log-entry.ts';
export * from './parameter.ts';
export * from './part.ts';
export * from './problem.ts';
export * from './risk.ts';
export * from './step.ts';
export * from './supplier.ts';
