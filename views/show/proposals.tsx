/** What might go into a box, each with one tap and the box that it goes into. */
import type { PackProposal } from '../../server/model/index.ts';
import { WhileOpen } from '../frame/while-open.tsx';
import { sheetForm } from '../hx.ts';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';
import { partName } from './show-words.ts';

const say = showTexts.pack.proposals;

export function Proposals({ page, open, show, href }: ShowSection): Html | null {
  const { proposals } = show;
  if (proposals.length === 0 || open !== null) return null;
  const isBehind = (page.behind?.edits ?? 0) > 0;
  return (
    <details class="cautions proposals" id="proposals">
      <summary>{say.heading(proposals.length)}</summary>
      <p class="quiet">{isBehind ? say.waiting : say.note}</p>
      <ul>
        {proposals.map((proposal) => (
          <li key={`${proposal.code} ${proposal.of}`}>
            <Take page={page} proposal={proposal} href={href} isBehind={isBehind} />
          </li>
        ))}
      </ul>
    </details>
  );
}

interface TakeProps {
  page: BuildPage;
  proposal: PackProposal;
  href: string;
  isBehind: boolean;
}

function Take({ page, proposal, href, isBehind }: TakeProps): Html {
  const { code, of, box } = proposal;
  const what = proposalText(page, proposal);
  return (
    <WhileOpen>
      <form class="take" {...sheetForm(`${href}/take`)}>
        <input type="hidden" name="code" value={code} />
        <input type="hidden" name="of" value={of} />
        <input type="hidden" name="edit" value={page.revision} />
        <span>{what}</span>
        <select name="box" aria-label={say.into(what)}>
          {(page.build.boxes ?? []).map(({ id, name }) => (
            <option key={id} value={id} selected={id === box}>
              {name}
            </option>
          ))}
          <option value="" selected={box === null}>
            {say.newBox}
          </option>
        </select>
        <button type="submit" disabled={isBehind}>
          {say.take}
          <span class="heard"> {what}</span>
        </button>
      </form>
    </WhileOpen>
  );
}

/** A proposal in words. */
function proposalText({ build, forecast }: BuildPage, proposal: PackProposal): string {
  switch (proposal.code) {
    case 'units':
    case 'spares':
      return say[proposal.code](figure(proposal.units), partName(build, proposal.of));
    case 'tool':
      return say.tool(
        proposal.of,
        proposal.steps.map((step) => stepName(forecast, step)),
      );
    case 'one-more':
    case 'repair':
      return say[proposal.code](partName(build, proposal.of));
  }
}
