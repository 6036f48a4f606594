/** Whose time may be lost: everybody's, somebody's, or a machine's. */
import type { CountState } from '../client/outbox/count-wire.ts';
import type { Html } from '../render.ts';
import { countTexts as say } from '../texts/count/sheet.ts';

/** The choices of a field, `person ID` or `machine ID N` as their values. */
export function LostChoices({ state: { people, machines } }: { state: CountState }): Html {
  return (
    <>
      <option value="">{say.everybody}</option>
      {people.map(({ id, name }) => (
        <option key={id} value={`person ${id}`}>
          {name}
        </option>
      ))}
      {machines.flatMap((machine) => machineOptions(machine))}
    </>
  );
}

/** All of a machine, and of several alike some. */
function machineOptions({ id, name, count }: CountState['machines'][number]): Html[] {
  const some = Array.from({ length: count - 1 }, (_, i) => i + 1);
  return [
    <option key={id} value={`machine ${id}`}>
      {say.machineDown(name, count)}
    </option>,
    ...some.map((n) => (
      <option key={`${id} ${n}`} value={`machine ${id} ${n}`}>
        {say.oneDown(name, n, count)}
      </option>
    )),
  ];
}
