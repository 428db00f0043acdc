import Type from "typebox";

/** A list longer than this is no list of breakers that one lab received at once. */
export const longestListBytes = 10_000_000;

/** POST /api/specimens/import: a list of specimens, all lines or none. Answer 201: ReceivedSpecimen[]. */
export const importSpecimensBody = Type.Object(
  {
    csv: Type.String({ maxLength: longestListBytes, description: "text of the list as CSV, with a header" }),
    name: Type.Optional(
      Type.String({ minLength: 1, maxLength: 200, description: "name of the file, for messages" }),
    ),
  },
  { additionalProperties: false },
);

/** A specimen that was received with a list: the identifier it was given, and its label. */
export interface ReceivedSpecimen {
  specimen: string;
  label: string;
}
