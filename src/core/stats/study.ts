import { checkCounts } from "./check-arguments.ts";

/** What one study found: k failures of n specimens tested. */
export interface Study {
  k: number;
  n: number;
}

/** One study's estimate on the scale on which studies are pooled, and its sampling variance there. */
export interface StudyEffect {
  estimate: number;
  variance: number;
}

/** Refuse an empty list and counts that are not k of n. @throws RangeError naming the study by its place */
export function checkStudies(studies: readonly Study[]): void {
  if (studies.length === 0) throw new RangeError("studies must be one or more but there are none");
  for (const [index, { k, n }] of studies.entries()) checkCounts(k, n, `study ${index + 1}, `);
}

/** Refuse an empty list and effects that cannot be weighted. @throws RangeError naming the study by its place */
export function checkEffects(effects: readonly StudyEffect[]): void {
  if (effects.length === 0) throw new RangeError("studies must be one or more but there are none");
  for (const [index, { estimate, variance }] of effects.entries()) {
    if (!Number.isFinite(estimate) || !(variance > 0 && variance < Number.POSITIVE_INFINITY)) {
      throw new RangeError(
        `study ${index + 1}: a finite estimate and a variance above 0 are needed but found ${estimate} and ${variance}`,
      );
    }
  }
}
