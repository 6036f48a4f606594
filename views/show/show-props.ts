/** What the sections of Show day are given. */
import type { ForecastShow, Problem } from '../../server/model/index.ts';
import type { BuildPage, OpenForm } from '../types.ts';

export interface ShowProps {
  page: BuildPage;
  open: OpenForm | null;
  /** Why a box could not be ticked. */
  problems?: readonly Problem[];
}

/** What every section of the sheet is given. */
export interface ShowSection extends ShowProps {
  show: ForecastShow;
  href: string;
}
