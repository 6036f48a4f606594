/** What the answers about the show are made from. */
import type { Forecast } from '../../model/index.ts';
import type { Spells } from '../10-answers/index.ts';
import type { Planned } from '../stages/index.ts';

/** What the answers about the show are made from. */
export interface ShowSources {
  readonly planned: Planned;
  readonly spells: Spells;
  readonly forecast: Omit<Forecast, 'show'>;
}
