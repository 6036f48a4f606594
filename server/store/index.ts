/** The door of the store: the only room that speaks SQL. Synchronous; rows in, model words out. */
import { type AccessStore, createAccessStore } from './access.ts';
import { backupDatabase } from './backup.ts';
import { type BuildStore, createBuildStore } from './builds.ts';
import { createDisk, type Disk } from './disk.ts';
import { createFeedStore, type FeedStore } from './feeds.ts';
import { createFirstPlanStore, type FirstPlanStore } from './first-plans.ts';
import { createForecastStore, type ForecastStore } from './forecasts.ts';
import { createKeyStore, type KeyStore } from './keys.ts';
import { createLogStore, type LogStore } from './log.ts';
import type { Db } from './open.ts';
import { createOptionStore, type OptionStore } from './options.ts';
import { createOwnFigureStore, type OwnFigureStore } from './own-figures.ts';

export * from './access.ts';
export * from './backup.ts';
export * from './builds.ts';
export * from './disk.ts';
export * from './feeds.ts';
export * from './first-plans.ts';
export * from './forecasts.ts';
export * from './keys.ts';
export * from './log.ts';
export { type Db, newestSchemaVersion, openDatabase, schemaVersion } from './open.ts';
export * from './options.ts';

export interface Store {
  readonly builds: BuildStore;
  readonly log: LogStore;
  readonly forecasts: ForecastStore;
  readonly firstPlans: FirstPlanStore;
  readonly options: OptionStore;
  readonly access: AccessStore;
  readonly feeds: FeedStore;
  readonly keys: KeyStore;
  readonly figures: OwnFigureStore;
  /**
   * One transaction around all that `work` does, committed when it returns (see `synced`), undone when it throws.
   */
  together<T>(work: () => T): T;
  /** When what was committed is on the disk, see `Disk`; null: it is. */
  synced: Disk['synced'];
  /** Copies everything to a file while in use. */
  backup(file: string): Promise<void>;
  close(): void;
}

/**
 * All questions to an open database (see `openDatabase`); every commit is on the disk when it returns, unless `disk`
 * has fallen behind.
 */
export function createStore(db: Db, disk = createDisk(db)): Store {
  const together = db.transaction((work: () => unknown) => work());
  return {
    builds: createBuildStore(db),
    log: createLogStore(db),
    forecasts: createForecastStore(db, disk),
    firstPlans: createFirstPlanStore(db),
    options: createOptionStore(db),
    access: createAccessStore(db),
    feeds: createFeedStore(db),
    keys: createKeyStore(db),
    figures: createOwnFigureStore(db),
    together: <T>(work: () => T): T => together.immediate(work) as T,
    synced: disk.synced,
    backup: (file) => backupDatabase(db, file),
    close: () => {
      db.close();
    },
  };
}
