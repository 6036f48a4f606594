/** Show day: what could stop the show, the pack list, the ways to the site, the run sheet, the strike. */
import type { ForecastShow } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { SheetProblems } from '../parts/sheet-problems.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { showTexts as say } from '../texts/paper/show.ts';
import { PackList } from './pack-list.tsx';
import { PointList } from './points.tsx';
import { PowerOns, RunSheet } from './run-sheet.tsx';
import type { ShowProps } from './show-props.ts';
import { Stops } from './stops.tsx';
import { StrikeList } from './strike.tsx';
import { WayList } from './ways.tsx';

const NOTHING: ForecastShow = {
  ...{ boxes: [], unpacked: [], proposals: [], notNeeded: [], passages: [], points: [] },
  ...{ run: [], notYet: [], power: [], strike: [], stops: [] },
};

export function ShowPage(props: ShowProps): Html {
  return (
    <BuildLayout page={props.page} screen="show" modules={['packing.js']}>
      <ShowSheet {...props} />
    </BuildLayout>
  );
}

export function ShowSheet(props: ShowProps): Html {
  const { page, open, problems = [] } = props;
  const href = screenHref(page.build.id, 'show');
  const section = { ...props, show: page.forecast.show ?? NOTHING, href };
  return (
    <Sheet page={page} screen="show" refresh={open === null ? href : null}>
      <h1>{texts.screens.show}</h1>
      <SheetProblems problems={problems} />
      <nav class="show-jumps" aria-label={say.jump}>
        {jumps().map(([id, name]) => (
          <a key={id} href={`#${id}`}>
            {name}
          </a>
        ))}
      </nav>
      <Stops {...section} />
      <PackList {...section} />
      <WayList {...section} />
      <PointList {...section} />
      <RunSheet {...section} />
      <PowerOns {...section} />
      <StrikeList {...section} />
    </Sheet>
  );
}

const jumps = (): readonly (readonly [string, string])[] => [
  ['boxes-title', say.pack.heading],
  ['passages-title', say.ways.heading],
  ['points-title', say.points.heading],
  ['run-title', say.run.heading],
  ['power-title', say.power.heading],
  ['strike-title', say.strike.heading],
];
