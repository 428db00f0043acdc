import Type from "typebox";
import type { Band } from "../core/limits/band.ts";

const words = (description: string) => Type.String({ minLength: 1, maxLength: 300, description });
const orNone = (description: string) => Type.Optional(Type.Union([words(description), Type.Null()]));
const closed = { additionalProperties: false };

const point = Type.Tuple([Type.Number({ exclusiveMinimum: 0 }), Type.Number({ exclusiveMinimum: 0 })], {
  description: "current and seconds, both above 0",
});

const edges = {
  current: Type.Enum(["amps", "multiple"], { description: "what the first number of each point is" }),
  minimum: Type.Array(point, { minItems: 2, maxItems: 10000, description: "shortest time to trip" }),
  maximum: Type.Array(point, { minItems: 2, maxItems: 10000, description: "longest time to trip" }),
};

/** A file of `asfound bands import` in JSON: the two edges of a band. */
export const bandEdgesSchema = Type.Object(edges, closed);

/** What stands beside the edges. */
const about = {
  id: Type.String({
    pattern: "^[a-z0-9]+(-[a-z0-9]+)*$",
    maxLength: 80,
    description: "the name by which it is called: lower case letters, digits and single hyphens",
  }),
  title: words("one line for a reader"),
  source: Type.Object(
    {
      document: words("the publication from which it was digitised, by its name"),
      edition: orNone("edition or date of the publication"),
      clause: orNone("page, figure or drawing number"),
      standing: Type.Optional(
        Type.Enum(["read in the document", "seen second-hand", "from memory", "our own choice"], {
          description: "how well it is known; seen second-hand where left out",
        }),
      ),
      doubtful: Type.Optional(Type.Boolean()),
      note: Type.Optional(Type.String({ maxLength: 2000 })),
    },
    closed,
  ),
  makeCode: orNone("code of the maker, as on specimens"),
  typeCode: orNone("code of the type, as on specimens"),
};

export const bandAboutSchema = Type.Object(about, closed);
export type BandAbout = Type.Static<typeof bandAboutSchema>;

/** POST /api/bands: a lab adds a band. Answer 201: BandView. */
export const addBandBody = Type.Object({ ...about, ...edges }, closed);

/** A band as the lab has it. GET /api/bands gives a list, in the order in which they were added. */
export interface BandView {
  band: Band;
  makeCode: string | null;
  typeCode: string | null;
  tableHash: string;
  addedAt: string;
}
