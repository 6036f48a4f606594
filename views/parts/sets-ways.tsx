/** Sets: one through to its gate first, or step by step over all; what each way comes to. */
import type { SetsCompared, SetsWay, SetsWays as Ways } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { chanceText, lengthText, percent, whenText, workText } from '../words/wording.ts';

const say = texts.levers.sets;
/** Less than this sure, neither is called the better (our choice, no source). */
const SURE = 0.9;

export function SetsWays({ page, sets }: { page: BuildPage; sets: readonly SetsCompared[] }): Html {
  return (
    <>
      {sets.map((one) => (
        <section key={one.gate} aria-labelledby={`sets-${one.gate}`}>
          <h2 id={`sets-${one.gate}`}>{say.heading(one.name)}</h2>
          <p class="quiet">{say.note(percent(one.failChance), one.sets)}</p>
          <Both page={page} title={say.onAll} ways={one.onAll} />
          <Both page={page} title={say.onOne} ways={one.onOne} />
        </section>
      ))}
    </>
  );
}

function Both({ page, title, ways }: { page: BuildPage; title: string; ways: Ways }): Html {
  return (
    <>
      <h3>{title}</h3>
      <dl class="figures">
        <Way page={page} name={say.first} way={ways.first} />
        <Way page={page} name={say.along} way={ways.along} />
      </dl>
      <p>{betterText(ways)}</p>
    </>
  );
}

function Way({ page, name, way }: { page: BuildPage; name: string; way: SetsWay }): Html {
  const { readyAt, chance, reworkMinutes } = way;
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {say.ready} {whenText(page.clock, readyAt, page.forecast.now)}, {chanceText(chance)},{' '}
        {say.rework(workText(reworkMinutes))}
      </dd>
    </div>
  );
}

function betterText({ later, sure }: Ways): string {
  if (sure < SURE || Math.abs(later.mean) < 1) return say.alike(chanceText(sure));
  const which = later.mean > 0 ? say.first : say.along;
  return say.better(which, lengthText(Math.abs(Math.round(later.mean))), chanceText(sure));
}
