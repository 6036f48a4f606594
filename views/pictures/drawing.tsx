/**
 * Pens shared by all pictures. Places are per cents of the width and multiples of the size of type; shapes are in
 * pixels.
 */
import type { ComponentChildren } from 'preact';
import type { Html } from '../render.ts';

/** A shape drawn about its own origin, which is put at x, y. */
export function At({ x, y, children }: { x: string; y: string; children: ComponentChildren }): Html {
  return (
    <svg x={x} y={y} overflow="visible" aria-hidden="true">
      {children}
    </svg>
  );
}

interface HatchProps {
  id: string;
  /** Class of its lines. */
  pen?: string;
  /** Pixels between two of them. */
  gap?: number;
}

/** Graphite for what is done: a pattern to fill with, in place of a colour. */
export function Hatch({ id, pen = 'hatch', gap = 5 }: HatchProps): Html {
  return (
    <pattern id={id} width={gap} height={gap} patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
      <line class={pen} x1="0" x2="0" y1="0" y2={gap} />
    </pattern>
  );
}

/** The two arrow heads of a dimension line from x1 to x2. */
export function DimensionLine({ x1, x2, y }: { x1: string; x2: string; y: string }): Html {
  return (
    <g class="dimension">
      <line x1={x1} x2={x2} y1={y} y2={y} />
      <At x={x1} y={y}>
        <path d="M0 0 L9 -3 L9 3 Z" />
      </At>
      <At x={x2} y={y}>
        <path d="M0 0 L-9 -3 L-9 3 Z" />
      </At>
    </g>
  );
}
