import { checkStudies, type Study, type StudyEffect } from "./study.ts";

/**
 * To which studies something is added before the logit is taken: only those without failures or without passes
 * (`only0`), all of them as soon as there is one such (`if0all`), all always (`all`), or none.
 */
export type CorrectedStudies = "only0" | "if0all" | "all" | "none";

/**
 * Logit of each study's failure rate, ln((k + a) / (n - k + a)), and its variance 1/(k + a) + 1/(n - k + a).
 *
 * The addition is what makes a study without failures (or without passes) poolable on this scale, and biases it towards a
 * half; the binomial-normal model needs none.
 *
 * Source: Haldane J B S (1956) Ann Hum Genet 20:309-311; Anscombe F J (1956) Biometrika 43:461-464 (a = 1/2).
 *
 * @param add what is added to failures and to passes, 0 or more
 * @returns in the order of `studies`; null for a study whose logit stays infinite because nothing was added
 * @throws RangeError for counts that are not k of n, or an addition below 0
 */
export function logitEffects(
  studies: readonly Study[],
  add = 0.5,
  to: CorrectedStudies = "only0",
): (StudyEffect | null)[] {
  checkStudies(studies);
  if (!(add >= 0 && add < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`add must be a number of 0 or more but is ${add}`);
  }
  const isExtreme = ({ k, n }: Study) => k === 0 || k === n;
  const someExtreme = studies.some(isExtreme);
  return studies.map((study) => {
    const corrected =
      to === "all" || (to === "if0all" && someExtreme) || (to === "only0" && isExtreme(study));
    const a = corrected ? add : 0;
    const failures = study.k + a;
    const passes = study.n - study.k + a;
    if (failures === 0 || passes === 0) return null;
    return { estimate: Math.log(failures / passes), variance: 1 / failures + 1 / passes };
  });
}

/**
 * The usual logits for pooling: one half added to failures and passes, only in studies without failures or without
 * passes, so that none is null.
 *
 * @throws RangeError for counts that are not k of n
 */
export function poolableLogits(studies: readonly Study[]): StudyEffect[] {
  return logitEffects(studies).filter((effect) => effect !== null);
}
