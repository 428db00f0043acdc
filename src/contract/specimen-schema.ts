import Type from "typebox";
import type { Loading, Specimen } from "../core/specimen/specimen.ts";

const text = (description: string) => Type.String({ minLength: 1, maxLength: 200, description });

/** JSON Schema of a specimen: what `asfound shoot --specimen FILE.json` and the page accept. Unknown fields are refused. */
export const specimenSchema = Type.Object(
  {
    label: Type.String({
      minLength: 1,
      maxLength: 60,
      description: "name on the bench, unique in the ledger",
    }),
    ratedAmps: Type.Number({ exclusiveMinimum: 0, maximum: 6000, description: "rated current in amperes" }),
    poles: Type.Union([Type.Literal(1), Type.Literal(2), Type.Literal(3)], {
      description: "number of poles",
    }),
    volts: Type.Number({ exclusiveMinimum: 0, maximum: 1500, description: "rated voltage in volts" }),
    frameAmps: Type.Optional(
      Type.Number({ exclusiveMinimum: 0, maximum: 6000, description: "frame size in amperes" }),
    ),
    tripType: Type.Optional(
      Type.Union(
        [
          Type.Literal("thermal-magnetic"),
          Type.Literal("electronic"),
          Type.Literal("magnetic-only"),
          Type.Literal("unknown"),
        ],
        { description: "how it trips" },
      ),
    ),
    typeLetter: Type.Optional(
      Type.Union([Type.Literal("B"), Type.Literal("C"), Type.Literal("D")], {
        description: "IEC 60898-1 type",
      }),
    ),
    calibratedCelsius: Type.Optional(
      Type.Number({ minimum: -20, maximum: 80, description: "ambient of its calibration, degrees Celsius" }),
    ),
    makeCode: Type.Optional(text("the lab's own code for the maker")),
    typeCode: Type.Optional(text("the lab's own code for the type")),
    dateCode: Type.Optional(text("date code as marked")),
    madeYear: Type.Optional(
      Type.Integer({ minimum: 1900, maximum: 2100, description: "year of manufacture" }),
    ),
    job: Type.Optional(text("job from which it was removed")),
    panel: Type.Optional(text("panel of the job")),
    circuit: Type.Optional(text("circuit position in the panel")),
    receivedOn: Type.Optional(
      Type.String({ pattern: "^\\d{4}-\\d{2}-\\d{2}$", description: "date received, YYYY-MM-DD" }),
    ),
    condition: Type.Optional(Type.String({ maxLength: 2000, description: "condition as received" })),
    handleAsReceived: Type.Optional(
      Type.Union(
        [Type.Literal("on"), Type.Literal("off"), Type.Literal("tripped"), Type.Literal("unknown")],
        {
          description: "handle position as received",
        },
      ),
    ),
    operationsSinceRemoval: Type.Optional(
      Type.Integer({
        minimum: 0,
        maximum: 100000,
        description: "known handle movements between removal and receipt",
      }),
    ),
    selection: Type.Optional(
      Type.Union(
        [
          Type.Literal("all of a panel"),
          Type.Literal("at random"),
          Type.Literal("on suspicion"),
          Type.Literal("unknown"),
        ],
        { description: "how it came to be among those tested" },
      ),
    ),
    notes: Type.Optional(Type.String({ maxLength: 4000 })),
    demo: Type.Optional(Type.Boolean({ description: "true for invented specimens" })),
    emulatedBreaker: Type.Optional(
      text("for the emulated rig only: the built-in breaker that plays this specimen"),
    ),
  },
  { additionalProperties: false },
);

type Assignable<A, B> = [A] extends [B] ? true : never;
/** The schema and the word of core are one; this line does not compile when they part. */
export const specimenTypesAgree: Assignable<Type.Static<typeof specimenSchema>, Specimen> &
  Assignable<Specimen, Type.Static<typeof specimenSchema>> = true;

export const loadingSchema = Type.Union(
  [Type.Literal("pole-1"), Type.Literal("pole-2"), Type.Literal("pole-3"), Type.Literal("all")],
  { description: "which poles carry the current" },
);
export const loadingTypesAgree: Assignable<Type.Static<typeof loadingSchema>, Loading> = true;
