/** Why something that was asked of a sheet could not be done, above what the sheet shows. */
import { messageOf, type Problem } from '../../server/model/index.ts';
import type { Html } from '../render.ts';

export function SheetProblems({ problems }: { problems: readonly Problem[] }): Html {
  return (
    <>
      {problems.map((it) => (
        <p class="threat" role="alert" key={it.message}>
          {messageOf(it)}
        </p>
      ))}
    </>
  );
}
