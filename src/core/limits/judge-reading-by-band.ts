import type { Reading } from "../signal/reading.ts";
import { type Band, bandAt, bandRequirement, judgeByBand } from "./band.ts";
import { undecided } from "./judge.ts";
import { type JudgeReadingOptions, judgedTimeOf, remarksOf } from "./judge-reading.ts";
import type { DecisionRule, Verdict } from "./verdict.ts";

/**
 * Holds a reading against a band at the current as measured. Flags that exclude leave it without a pass or a fail, and so does a
 * current that the band has no edges for; other flags stand among the reasons.
 *
 * @param current rated and target current of the shot; the band must have edges at the target
 * @throws RangeError where the reading contradicts itself, r < 0, or the band has no edges at the target
 */
export function judgeReadingByBand(
  reading: Reading,
  band: Band,
  current: { ratedAmps: number; targetAmps: number },
  rule: DecisionRule,
  options: Pick<JudgeReadingOptions, "confirmed" | "expandedAtLimit">,
): Verdict {
  const { confirmed } = options;
  const time = judgedTimeOf(reading, options.expandedAtLimit);
  const remarks = remarksOf(reading);
  const withRemarks = (verdict: Verdict): Verdict => ({
    ...verdict,
    reasons: [...verdict.reasons, ...remarks],
  });
  const without = (reasons: readonly string[]): Verdict => {
    const nominal = bandAt(
      band,
      band.current === "amps" ? current.targetAmps : current.targetAmps / current.ratedAmps,
    );
    if (nominal === null)
      throw new RangeError(`band ${band.id} has no edges at the target of ${current.targetAmps} A`);
    return undecided(reasons, bandRequirement(nominal), rule, {
      limitSet: band.id,
      row: null,
      source: band.source,
      confirmed,
      limitIncludesGuardBand: false,
      currentRatio: null,
    });
  };
  if (time.excluded.length > 0) return withRemarks({ ...without(time.excluded), result: "excluded" });
  if (!(reading.effectiveAmps > 0)) return withRemarks(without(["No verdict: no current flowed."]));
  const judgement = judgeByBand(
    time,
    band,
    { effectiveAmps: reading.effectiveAmps, ratedAmps: current.ratedAmps },
    rule,
    { confirmed },
  );
  return withRemarks(judgement.ok ? judgement.verdict : without([`No verdict: ${judgement.detail}.`]));
}
