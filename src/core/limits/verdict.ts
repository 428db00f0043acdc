/**
 * Decision rule, named and locked before the shot. `r` is the guard band's width over the expanded uncertainty, w = r U.
 */
export type DecisionRule =
  | { kind: "simple" }
  | { kind: "guard"; r: number }
  | { kind: "nonbinary"; r: number };

/** The statement of a non-binary rule, named as ILAC-G8 names them. */
export type Statement = "Pass" | "Conditional Pass" | "Conditional Fail" | "Fail";

/** What was found, apart from pass or fail: too fast and too slow are different findings. */
export type Finding =
  | "tripped in time"
  | "held as required"
  | "late trip"
  | "no trip"
  /** Within the limit, but not by the margin that the rule demands. */
  | "inside the guard band"
  | "too fast"
  | "nuisance trip"
  | "not decided";

/**
 * A reading held against a test point under a decision rule. `undetermined`: stopped, without a trip, before the shot could
 * decide. `excluded`: the shot cannot be used. Both are never a pass and never a fail.
 */
export interface Verdict {
  result: "pass" | "fail" | "undetermined" | "excluded";
  finding: Finding;
  /** Only under a non-binary rule. */
  statement: Statement | null;
  /** Probability of conformity (JCGM 106 clause 7) under a normal state of knowledge and a flat prior; null where undefined. */
  probability: number | null;
  /** The limit that decided, in seconds; null where there is none. */
  limitSeconds: number | null;
  limitSet: string;
  /** Row of the limit set. */
  row: string | null;
  rule: DecisionRule;
  /** False until a lab has confirmed the set against its own copy of the document. */
  confirmed: boolean;
  /** Whole sentences for a reader. */
  reasons: string[];
}

/** Why no verdict can be given at all under the rule that was chosen. */
export type JudgementRefusal = {
  ok: false;
  /** `no-acceptance-interval`: the guard bands leave no time that could pass. `outside-band`: the band has no edges at this current. */
  code: "no-acceptance-interval" | "outside-band";
  detail: string;
};

/** A verdict, or the reason why there can be none. */
export type Judgement = { ok: true; verdict: Verdict } | JudgementRefusal;
