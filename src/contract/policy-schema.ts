import Type from "typebox";
import type { LabPolicy } from "./ledger-entries.ts";

const choice = <const T extends string[]>(values: readonly [...T], description: string) =>
  Type.Enum(values, { description });

const demand = (what: string) => choice(["demanded", "not demanded"], `${what}, before the first current`);

/** PUT /api/policy: what the lab has decided for all its work, whole. Answer 200: the same. */
export const policyBody = Type.Object(
  {
    pastDueCalibration: choice(
      ["block", "flag"],
      "a rig whose calibration is past due: no shot, or a flag on every shot",
    ),
    precedence: choice(
      ["band first", "table first"],
      "where a lab's band and a published table both apply, which is judged by",
    ),
    notCold: choice(
      ["block", "flag"],
      "what is done with a shot on a specimen that is not cold by the model",
    ),
    coolingTauSeconds: Type.Number({
      exclusiveMinimum: 0,
      maximum: 1e6,
      description: "cooling time constant of specimens, seconds",
    }),
    gate: Type.Object(
      {
        photographs: demand("photographs as received"),
        checks: demand("checks that alter nothing"),
        programmeLocked: demand("programme and decision rule locked"),
        parties: demand("parties notified, with dates and answers"),
        authority: demand("authority to proceed"),
      },
      { additionalProperties: false, description: "what is demanded before the first current of a specimen" },
    ),
  },
  { additionalProperties: false },
);

type Assignable<A, B> = [A] extends [B] ? true : never;
/** The schema and the ledger's word are one; this line does not compile when they part. */
export const policyTypesAgree: Assignable<Type.Static<typeof policyBody>, LabPolicy> &
  Assignable<LabPolicy, Type.Static<typeof policyBody>> = true;
