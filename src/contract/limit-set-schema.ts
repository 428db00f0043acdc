import Type from "typebox";
import type { LimitSet } from "../core/limits/limit-set.ts";

const words = (description: string) => Type.String({ minLength: 1, description });
const positive = (description: string) => Type.Number({ exclusiveMinimum: 0, description });
const orNone = (description: string) => Type.Union([positive(description), Type.Null()]);
const choice = <const T extends string[]>(values: readonly [...T], description: string) =>
  Type.Enum(values, { description });
const closed = { additionalProperties: false };

const source = Type.Object(
  {
    document: words("the document, by its name"),
    edition: Type.Union([words("edition of the document"), Type.Null()]),
    clause: Type.Union([words("clause or table"), Type.Null()]),
    standing: choice(
      ["read in the document", "seen second-hand", "from memory", "our own choice"],
      "how well the value that decides is known",
    ),
    doubtful: Type.Boolean({ description: "true where even the memory is doubtful" }),
    note: words("what was seen, and where"),
  },
  closed,
);

const requirement = Type.Union([
  Type.Object({ kind: Type.Literal("trip-within"), maxSeconds: positive("latest trip, seconds") }, closed),
  Type.Object(
    {
      kind: Type.Literal("trip-between"),
      minSeconds: positive("earliest trip, seconds"),
      maxSeconds: positive("latest trip, seconds"),
    },
    closed,
  ),
  Type.Object(
    {
      kind: Type.Literal("hold-for"),
      seconds: positive("time without a trip, seconds"),
      until: Type.Optional(words("the condition that ends the hold where the document gives no time")),
    },
    closed,
  ),
]);

const row = Type.Object(
  {
    id: words("unique in the set"),
    test: words("rows of one test share its name"),
    multiple: positive("of the rated current"),
    requirement,
    ratedOverAmps: Type.Number({ minimum: 0, description: "rated current above this, amperes" }),
    ratedToAmps: orNone("rated current up to and including this, amperes; null is no upper end"),
    voltsOver: Type.Optional(Type.Number({ minimum: 0, description: "rated voltage above this" })),
    voltsTo: Type.Optional(orNone("rated voltage up to and including this; null is no upper end")),
    typeLetters: Type.Optional(
      Type.Immutable(
        Type.Array(choice(["B", "C", "D"], "type of IEC 60898-1"), { minItems: 1, uniqueItems: true }),
      ),
    ),
    calibratedCelsius: Type.Optional(
      Type.Number({ description: "only for specimens marked for this ambient" }),
    ),
    loading: choice(["each pole alone", "all poles", "either"], "which poles carry the current"),
    start: Type.Union([
      Type.Literal("cold"),
      Type.Object({ after: words("straight after this test of the same set") }, closed),
    ]),
    ambient: Type.Union([
      Type.Object({ lowestCelsius: Type.Number(), highestCelsius: Type.Number() }, closed),
      Type.Null(),
    ]),
    source,
  },
  closed,
);

const instantaneousRow = Type.Object(
  {
    id: words("unique in the set"),
    tripType: choice(
      ["adjustable thermal-magnetic", "non-adjustable", "electronic", "short-circuit release"],
      "kind of instantaneous trip",
    ),
    low: Type.Number({ exclusiveMinimum: -1, maximum: 0, description: "fraction; -0.3 is 30 % below" }),
    high: Type.Number({ minimum: 0, description: "fraction; 0.4 is 40 % above" }),
    takenFrom: choice(
      ["the nominal setting", "the low and high edge of the published band"],
      "what the fractions are taken from",
    ),
    withinSeconds: Type.Optional(positive("time of the instantaneous trip, seconds")),
    source,
  },
  closed,
);

/** JSON Schema of a limit set, published as `curves/limit-set.schema.json`. Unknown fields are refused. */
export const limitSetSchema = Type.Object(
  {
    $schema: Type.Optional(words("where editors find this schema")),
    id: Type.String({ pattern: "^[a-z0-9]+(-[a-z0-9]+)*$", description: "the name by which it is called" }),
    title: words("one line for a reader"),
    about: words("what the set is, and what it is not"),
    limitIncludesGuardBand: Type.Boolean({
      description: "true where the published limits already contain a margin for measurement error",
    }),
    rows: Type.Array(row),
    instantaneous: Type.Optional(Type.Array(instantaneousRow)),
  },
  {
    ...closed,
    title: "Limit set",
    description: "Test points from one published source, every row with its own source.",
  },
);

type Assignable<A, B> = [A] extends [B] ? true : never;
/** The schema and the word of core are one; this line does not compile when they part. */
export const limitSetTypesAgree: Assignable<Type.Static<typeof limitSetSchema>, LimitSet> &
  Assignable<LimitSet, Type.Static<typeof limitSetSchema>> = true;

/** The published form of the schema: what stands in `curves/limit-set.schema.json`. */
export function publishedLimitSetSchema(): Record<string, unknown> {
  return { $schema: "https://json-schema.org/draft/2020-12/schema", ...limitSetSchema };
}
