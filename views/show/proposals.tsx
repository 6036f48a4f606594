/** What might go into a box, each with one tap and the box that it goes into. */
import type { NotNeeded, PackProposal, PowerProposal } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { sheetForm } from '../hx.ts';
import type { Html } from '../render.ts';
import { showTexts } from '../texts/paper/show.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure } from '../words/wording.ts';
import type { ShowSection } from './show-props.ts';
import { partName } from './show-words.ts';

const say = showTexts.pack.proposals;

export function Proposals(section: ShowSection): Html | null {
  if (section.open !== null) return null;
  return (
    <>
      <Proposed {...section} />
      <NotNeededList {...section} />
    </>
  );
}

function Proposed({ page, show, href }: ShowSection): Html | null {
  const { proposals } = show;
  if (proposals.length === 0) return null;
  const isBehind = isBehindEdits(page);
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
        <button type="submit" name="answer" value="not-needed" disabled={isBehind}>
          {say.notNeeded}
          <span class="heard"> {what}</span>
        </button>
      </form>
    </WhileOpen>
  );
}

/** What the maker does not need, kept in sight and taken back by a tap. */
function NotNeededList({ page, show, href }: ShowSection): Html | null {
  if (show.notNeeded.length === 0) return null;
  return (
    <details class="cautions proposals" id="not-needed">
      <summary>{say.notNeededHeading(show.notNeeded.length)}</summary>
      <ul>
        {show.notNeeded.map((proposal) => (
          <li key={`${proposal.code} ${proposal.of}`} class="take">
            <span>{proposalText(page, proposal)}</span>
            <AnswerForm page={page} proposal={proposal} href={href} answer="again" />
          </li>
        ))}
      </ul>
    </details>
  );
}

interface AnswerProps {
  page: BuildPage;
  proposal: Pick<NotNeeded, 'code' | 'of'>;
  href: string;
  answer: 'not-needed' | 'again';
}

/** Says that what is proposed is not needed, or that it may be proposed again. */
export function AnswerForm({ page, proposal, href, answer }: AnswerProps): Html {
  return (
    <WhileOpen>
      <form class="take-answer" {...sheetForm(`${href}/take`)}>
        <input type="hidden" name="code" value={proposal.code} />
        <input type="hidden" name="of" value={proposal.of} />
        <input type="hidden" name="edit" value={page.revision} />
        <button type="submit" name="answer" value={answer} disabled={isBehindEdits(page)}>
          {answer === 'again' ? say.again : say.notNeeded}
          <span class="heard"> {proposal.of}</span>
        </button>
      </form>
    </WhileOpen>
  );
}

function isBehindEdits({ behind }: BuildPage): boolean {
  return (behind?.edits ?? 0) > 0;
}

/** A proposal in words. */
function proposalText({ build, forecast }: BuildPage, proposal: PackProposal | PowerProposal): string {
  switch (proposal.code) {
    case 'power-on':
      return say.powerOn[proposal.of];
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
