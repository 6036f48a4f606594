/** Shapes of small answers: a refusal, what makes a page an app, the description of the API. */
import Type, { type Static } from 'typebox';

/** Every refusal: one sentence for a person. */
export const ProblemAnswer = Type.Object({ problem: Type.String({ minLength: 1 }) }, { additionalProperties: false });

export const Manifest = Type.Object(
  {
    name: Type.String(),
    short_name: Type.String(),
    id: Type.String(),
    start_url: Type.String(),
    scope: Type.String(),
    display: Type.String(),
    background_color: Type.String(),
    theme_color: Type.String(),
    icons: Type.Array(
      Type.Object({ src: Type.String(), sizes: Type.String(), type: Type.String() }, { additionalProperties: false }),
    ),
  },
  { additionalProperties: false },
);
export type Manifest = Static<typeof Manifest>;

/** The description of the API itself: as much of it as says what it is. */
export const OpenApi = Type.Object({ openapi: Type.String(), info: Type.Object({}), paths: Type.Object({}) });
