/** Taking a proposal of the pack list into a box, as changes of the build. */
import { showTexts } from '../../../views/texts/paper/show.ts';
import { type Box, type Build, type Change, freeId, type NotNeeded, type PackProposal } from '../../model/index.ts';

/**
 * The changes that put what is proposed into the box `boxId`, or into a new one where it is empty. One more of a part
 * is a spare in the design as well, so that the plan makes or orders it. Null: there is no such box.
 */
export function takingChanges(build: Build, proposal: PackProposal, boxId: string): Change[] | null {
  const boxes = build.boxes ?? [];
  const box = boxId === '' ? newBox(boxes) : boxes.find(({ id }) => id === boxId);
  if (box === undefined) return null;
  const { field, value } = filled(build, box, proposal);
  const spare: Change[] =
    proposal.code === 'one-more' ? [{ kind: 'set', list: 'parts', key: proposal.of, field: 'spares', value: 1 }] : [];
  const put: Change =
    boxId === ''
      ? { kind: 'put', list: 'boxes', key: box.id, thing: { ...box, [field]: value } }
      : { kind: 'set', list: 'boxes', key: box.id, field, value };
  return [...spare, put];
}

/** The change that keeps, or takes back, that what is proposed is not needed. */
export function answeringChange({ notNeeded = [] }: Build, { code, of }: NotNeeded, isNeeded: boolean): Change {
  const others = notNeeded.filter((one) => one.code !== code || one.of !== of);
  const value = isNeeded ? others : [...others, { code, of }];
  return { kind: 'set', list: 'build', field: 'notNeeded', ...(value.length === 0 ? {} : { value }) };
}

function newBox(boxes: readonly Box[]): Box {
  const n = boxes.length + 1;
  const id = freeId(`box ${n}`, new Set(boxes.map((box) => box.id)))!;
  return { id, name: showTexts.pack.proposals.newName(n) };
}

/** The list of a box that takes it, with it in there. */
function filled(
  { parts = [] }: Build,
  box: Box,
  proposal: PackProposal,
): { field: 'parts' | 'tools' | 'kit'; value: unknown } {
  const { of } = proposal;
  if (proposal.code === 'tool') return { field: 'tools', value: [...(box.tools ?? []), of] };
  if (proposal.code === 'repair') {
    return { field: 'kit', value: [...(box.kit ?? []), parts.find(({ id }) => id === of)?.name ?? of] };
  }
  const count = 'units' in proposal ? proposal.units : 1;
  const row = { part: of, count, ...(proposal.code === 'units' ? {} : { spare: true }) };
  return { field: 'parts', value: [...(box.parts ?? []), row] };
}
