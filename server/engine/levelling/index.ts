/** Levelling: schedules that the hands and machines there are can really do. */
export { type Compiled, compile, type Dispatched, dispatch } from './compiled.ts';
export { type Levelled, type LevelOptions, level, levelBackwards } from './level.ts';
