import { checkStudies, type Study, type StudyEffect } from "./study.ts";

/** Why the back-transformed mean of double arcsines is offered, but not recommended. */
export const freemanTukeyWarning =
  "The pooled double arcsine has no rate of its own: the back-transformed value depends on which number of specimens is put in (harmonic mean or inverse variance), and can mislead where study sizes differ. Prefer the binomial-normal model.";

/**
 * Freeman and Tukey's double arcsine of each study: (asin √(k/(n+1)) + asin √((k+1)/(n+1))) / 2 with variance 1 / (4n + 2).
 *
 * The mean of the two arcsines; some write their sum, which doubles the value and quadruples the variance.
 *
 * Source: Freeman M F, Tukey J W (1950) Ann Math Stat 21:607-611.
 *
 * @throws RangeError for counts that are not k of n
 */
export function freemanTukeyEffects(studies: readonly Study[]): StudyEffect[] {
  checkStudies(studies);
  return studies.map(({ k, n }) => ({
    estimate: doubleArcsine(k / n, n),
    variance: 1 / (4 * n + 2),
  }));
}

/**
 * The rate whose double arcsine for n specimens is x; beyond the arcsines of 0 and 1 it is 0 and 1.
 *
 * Source: Miller J J (1978) Am Stat 32:138, his inverse with t = 2x.
 *
 * @param n number of specimens, need not be whole
 */
export function inverseDoubleArcsine(x: number, n: number): number {
  if (x <= doubleArcsine(0, n)) return 0;
  if (x >= doubleArcsine(1, n)) return 1;
  const sine = Math.sin(2 * x);
  const inner = sine + (sine - 1 / sine) / n;
  return 0.5 * (1 - Math.sign(Math.cos(2 * x)) * Math.sqrt(Math.max(0, 1 - inner * inner)));
}

/** Harmonic mean of the studies' numbers of specimens. */
export function harmonicMeanSize(studies: readonly Study[]): number {
  checkStudies(studies);
  return studies.length / studies.reduce((sum, { n }) => sum + 1 / n, 0);
}

function doubleArcsine(p: number, n: number): number {
  return (Math.asin(Math.sqrt((n * p) / (n + 1))) + Math.asin(Math.sqrt((n * p + 1) / (n + 1)))) / 2;
}
