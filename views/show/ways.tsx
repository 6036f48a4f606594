/** The van, the doors and the lift: which boxes go in and through, and by how much the others do not. */
import type { Passage, ShowPassage } from '../../server/model/index.ts';
import { ThingList } from '../parts/step-lists.tsx';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { figure } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';
import { nameOf } from './show-words.ts';

const say = showTexts.ways;

export function WayList({ page, open, href, show }: ShowSection): Html {
  const passages = page.build.passages ?? [];
  return (
    <div class="show-part">
      <ThingList
        page={page}
        open={open}
        href={href}
        list="passages"
        title={say.heading}
        none={say.none}
        things={passages.map((passage) => [
          passage.id,
          passage.name,
          <WayLine
            key="line"
            page={page}
            passage={passage}
            found={show.passages.find(({ id }) => id === passage.id)}
          />,
        ])}
      />
    </div>
  );
}

interface WayProps {
  page: BuildPage;
  passage: Passage;
  found: ShowPassage | undefined;
}

function WayLine({ page, passage, found }: WayProps): Html {
  const { width, height, depth, payload, kind } = passage;
  const sides = [width, height, depth].flatMap((side) => (side === undefined ? [] : [figure(side)])).join(' × ');
  const facts = [
    say.kinds[kind],
    say.size(sides),
    ...(payload === undefined ? [] : [say.payload(figure(payload))]),
    ...(found === undefined ? [] : [say.fits(found.fits, found.fits + found.noFit.length)]),
    ...(found === undefined ? [] : loadFacts(found)),
  ];
  const names = (ids: readonly string[]): string[] => ids.map((id) => nameOf(page.build.boxes, id));
  return (
    <span class="box">
      <span>{facts.join(', ')}</span>
      {(found?.noFit ?? []).map(({ box, turned, over }) => (
        <span key={box} class="threat">
          {say.noFit(
            nameOf(page.build.boxes, box),
            [turned.width, turned.height, turned.depth].map((side) => figure(side)).join(' × '),
            over.map(({ side, by }) => say.over(say.sides[side], figure(by, 1))).join(', '),
          )}
        </span>
      ))}
      {(found?.weight?.by ?? 0) > 0 ? <span class="threat">{say.tooHeavy(figure(found!.weight!.by, 1))}</span> : null}
      {(found?.volume?.by ?? 0) > 0 ? <span class="threat">{say.tooFull(figure(found!.volume!.by))}</span> : null}
      {(found?.unknown ?? []).length > 0 ? <span class="quiet">{say.unknown(names(found!.unknown))}</span> : null}
      {(found?.unweighed ?? []).length > 0 ? <span class="quiet">{say.unweighed(names(found!.unweighed))}</span> : null}
    </span>
  );
}

function loadFacts({ kind, weight, volume }: ShowPassage): string[] {
  const words = kind === 'van' ? say.weight : say.heaviest;
  return [
    ...(weight === null ? [] : [words(figure(weight.load, 1), figure(weight.payload))]),
    ...(volume === null ? [] : [say.volume(figure(volume.load), figure(volume.room))]),
  ];
}
