/** What is offered only while a build is open: forms that change it, and links to them. */
import { type ComponentChildren, createContext } from 'preact';
import type { Html } from '../render.ts';

/** Whether the build of the sheet is closed. */
const Closed = createContext(false);

/** The sheet of a build, which says to all in it whether the build is closed. */
export function OfBuild({ isClosed, children }: { isClosed: boolean; children: ComponentChildren }): Html {
  return <Closed.Provider value={isClosed}>{children}</Closed.Provider>;
}

/**
 * Nothing on the sheet of a closed build.
 *
 *     markup(OfBuild({ isClosed: false, children: WhileOpen({ children: 'Edit' }) })) // 'Edit'
 *     markup(OfBuild({ isClosed: true, children: WhileOpen({ children: 'Edit' }) })) // ''
 */
export function WhileOpen({ children }: { children: ComponentChildren }): Html {
  return <Closed.Consumer>{(isClosed) => (isClosed ? null : children)}</Closed.Consumer>;
}
