/** Points to hang from: load against limit, and who signs. */
import type { ShowPoint } from '../../server/model/index.ts';
import { ThingList } from '../parts/step-lists.tsx';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';

const say = showTexts.points;

export function PointList({ page, open, href, show }: ShowSection): Html {
  return (
    <div class="show-part">
      <ThingList
        page={page}
        open={open}
        href={href}
        list="points"
        title={say.heading}
        {...(show.points.length === 0 ? {} : { note: say.note })}
        none={say.none}
        things={show.points.map((point) => [point.id, point.name, <PointLine key="line" page={page} point={point} />])}
      />
    </div>
  );
}

function PointLine({ page, point }: { page: BuildPage; point: ShowPoint }): Html {
  const { load, limit, by } = point;
  const held = load === null ? say.unknown(figure(limit, 1)) : say.load(figure(load, 1), figure(limit, 1));
  return (
    <span class="box">
      <span>
        {held}
        {by === null || by > 0 ? null : <span class="quiet">, {say.margin(figure(-by, 1))}</span>}
      </span>
      {by !== null && by > 0 ? <span class="threat">{say.over(figure(by, 1))}</span> : null}
      <span class={point.signed ? undefined : 'threat'}>{signText(page, point)}</span>
    </span>
  );
}

function signText({ forecast }: BuildPage, { signed, signedBy, gate }: ShowPoint): string {
  if (signedBy === null) return say.nobody;
  if (signed) return say.signed(signedBy);
  return gate === null ? say.noGate(signedBy) : say.toSign(signedBy, stepName(forecast, gate));
}
