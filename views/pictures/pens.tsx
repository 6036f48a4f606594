/** The pens of the pictures, each with its name. */
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';

type Pen = keyof typeof texts.pictures.pens;

export function PenKey({ pens }: { pens: readonly Pen[] }): Html {
  return (
    <ul class="pen-key" aria-hidden="true">
      {pens.map((pen) => (
        <li key={pen}>
          <svg class="plot" width="36" height="12" aria-hidden="true">
            {pen === 'fan' ? (
              <g class="plot-fan">
                <rect class="fan-body" x="0" y="1" width="36" height="10" />
                <line class="pen-edge" x1="0" x2="36" y1="1" y2="1" />
                <line class="pen-edge" x1="0" x2="36" y1="11" y2="11" />
              </g>
            ) : (
              <line class={`pen-${pen}`} x1="0" x2="36" y1="6" y2="6" />
            )}
          </svg>
          {texts.pictures.pens[pen]}
        </li>
      ))}
    </ul>
  );
}
