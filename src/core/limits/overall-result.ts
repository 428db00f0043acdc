import type { Verdict } from "./verdict.ts";

/** What weighs more comes first: one failed test is not undone by another that was passed. */
const byWeight: readonly Verdict["result"][] = ["fail", "pass", "undetermined", "excluded"];

/**
 * The result of several tests in one word: `fail` where any was failed, else `pass` where any was passed, else `undetermined` where any
 * decided nothing, else `excluded`; null where there is none. A test without a result yet is left out.
 */
export function overallResult(results: readonly (Verdict["result"] | null)[]): Verdict["result"] | null {
  return byWeight.find((one) => results.includes(one)) ?? null;
}
