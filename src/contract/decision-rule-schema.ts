import Type from "typebox";
import type { DecisionRule } from "../core/limits/verdict.ts";

const r = Type.Number({
  minimum: 0,
  maximum: 100,
  description: "guard band over expanded uncertainty, w = r U",
});
const closed = { additionalProperties: false };

/** A decision rule as it crosses HTTP. */
export const decisionRuleSchema = Type.Union(
  [
    Type.Object({ kind: Type.Literal("simple") }, closed),
    Type.Object({ kind: Type.Literal("guard"), r }, closed),
    Type.Object({ kind: Type.Literal("nonbinary"), r }, closed),
  ],
  { description: "decision rule, locked before the current" },
);

type Assignable<A, B> = [A] extends [B] ? true : never;
/** The schema and the word of core are one; this line does not compile when they part. */
export const decisionRuleTypesAgree: Assignable<Type.Static<typeof decisionRuleSchema>, DecisionRule> &
  Assignable<DecisionRule, Type.Static<typeof decisionRuleSchema>> = true;
