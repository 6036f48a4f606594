/** The pack list: boxes in the order in which they are opened, what is in each, and a tick for what is packed. */
import type { ShowBox } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { sheetForm } from '../hx.ts';
import { ThingList } from '../parts/step-lists.tsx';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure, soonText, whenText } from '../words/wording.ts';
import { Proposals } from './proposals.tsx';
import type { ShowSection } from './show-props.ts';
import { partName, unitsTexts } from './show-words.ts';

const say = showTexts.pack;

export function PackList(section: ShowSection): Html {
  const { page, open, href, show } = section;
  const { boxes } = show;
  const packed = boxes.filter((box) => box.packed !== null).length;
  const isHeavy = boxes.some(({ above }) => (above ?? 0) > 0);
  return (
    <div class="show-part">
      <ThingList
        page={page}
        open={open}
        href={href}
        list="boxes"
        title={say.heading}
        {...(boxes.length === 0 ? {} : { note: `${say.order} ${say.done(packed, boxes.length)}.` })}
        none={say.none}
        things={boxes.map((box, i) => [
          box.id,
          box.name,
          <BoxLine key="line" page={page} box={box} place={i + 1} href={href} />,
        ])}
      />
      <Unpacked page={page} unpacked={show.unpacked} isEmpty={boxes.length === 0} />
      <Proposals {...section} />
      {isHeavy ? <p class="quiet small">{say.heavySource}</p> : null}
    </div>
  );
}

function Unpacked(props: {
  page: BuildPage;
  unpacked: ShowSection['show']['unpacked'];
  isEmpty: boolean;
}): Html | null {
  const { page, unpacked, isEmpty } = props;
  if (unpacked.length === 0) {
    const isCarried = page.forecast.steps.some(({ onSite }) => onSite);
    if (!isCarried) return <p class="quiet">{say.nothing}</p>;
    return isEmpty ? null : <p class="quiet">{say.allPacked}</p>;
  }
  return (
    <p class={isEmpty ? undefined : 'threat'}>{say.unpacked(unpacked.flatMap((it) => unitsTexts(page.build, it)))}</p>
  );
}

interface BoxProps {
  page: BuildPage;
  box: ShowBox;
  place: number;
  href: string;
}

function BoxLine({ page, box, place, href }: BoxProps): Html {
  const { forecast, clock, build } = page;
  const { opensAt, opens, size, weight, carriers, above, guideline } = box;
  const when = opens === null ? null : whenText(clock, opens, forecast.now);
  const facts = [
    opensAt === null ? say.opensNone : say.opens(stepName(forecast, opensAt), when),
    size === null ? say.noSize : say.size(figure(size.width), figure(size.height), figure(size.depth)),
    weight === null ? say.noWeight : say.weight(figure(weight, 1)),
    say.carriers(carriers),
  ];
  const over = box.parts.filter(({ tooMany }) => tooMany > 0);
  return (
    <span class="box">
      <span class="box-facts">
        <b>{say.place(place)}</b> <span class="quiet">{facts.join(', ')}</span>
      </span>
      {(above ?? 0) > 0 ? (
        <span class="threat">{say.heavy(figure(above!, 1), carriers, figure(guideline, 1))}</span>
      ) : null}
      <Contents page={page} box={box} />
      {over.map(({ part, tooMany }) => (
        <span key={part} class="threat">
          {say.tooMany(figure(tooMany), partName(build, part))}
        </span>
      ))}
      <Tick page={page} box={box} href={href} />
    </span>
  );
}

/** What is in a box, each kind with its name; a small square on paper for each thing, to be ticked by pencil. */
function Contents({ page, box }: { page: BuildPage; box: ShowBox }): Html {
  const lines = (only: 'units' | 'spares'): string[] =>
    box.parts.flatMap((it) => unitsTexts(page.build, { ...it, ...(only === 'units' ? { spares: 0 } : { units: 0 }) }));
  const groups: [string, readonly string[]][] = [
    [say.parts, lines('units')],
    [say.spares, lines('spares')],
    [say.tools, box.tools],
    [say.kit, box.kit],
  ];
  const filled = groups.filter(([, own]) => own.length > 0);
  if (filled.length === 0) return <span class="quiet">{say.empty}</span>;
  return (
    <>
      {filled.map(([name, own]) => (
        <span key={name} class="box-group">
          <span class="quiet small">{name}</span>
          <ul class="box-things">
            {own.map((line, i) => (
              <li key={i}>{line}</li>
            ))}
          </ul>
        </span>
      ))}
    </>
  );
}

/** One tap when a box is closed; the same place takes it back. */
function Tick({ page, box, href }: { page: BuildPage; box: ShowBox; href: string }): Html {
  const { forecast, clock } = page;
  const { id, name, packed } = box;
  return (
    <WhileOpen>
      <form
        class="pack-tap"
        data-box={id}
        data-tick={say.tick}
        data-untick={say.untick}
        data-kept={say.kept}
        data-sent={say.sent}
        {...sheetForm(`${href}/packed`)}
      >
        <input type="hidden" name="box" value={id} />
        <input type="hidden" name="after" value={page.entries} />
        {packed === null ? null : <input type="hidden" name="undoes" value={packed.entry} />}
        <button type="submit" aria-pressed={packed === null ? 'false' : 'true'}>
          {packed === null ? say.tick : say.untick}
          <span class="heard"> {name}</span>
        </button>
        <span class="quiet small" data-told>
          {packed === null ? null : say.packed(soonText(clock, packed.at, forecast.now), packed.who ?? say.maker)}
        </span>
      </form>
    </WhileOpen>
  );
}
