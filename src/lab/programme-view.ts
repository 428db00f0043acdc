import type { ProgrammeStep } from "../contract/http.ts";
import { programmeFor } from "../core/limits/applicable-rows.ts";
import { requirementWords } from "../core/limits/requirement-words.ts";
import type { Loading } from "../core/specimen/specimen.ts";
import { formatMultiple } from "../core/units/format-multiple.ts";
import type { Lab } from "./lab.ts";
import { defaultLimitSet } from "./limit-library.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** Which poles, in words. */
export function loadingWords(loading: Loading): string {
  return loading === "all" ? "all poles in series" : `pole ${loading.slice(-1)} alone`;
}

/** The test points that apply to a specimen, in order, each with the newest shot made at it. */
export function programmeView(lab: Lab, specimen: string, limitSet = defaultLimitSet): ProgrammeStep[] {
  const { details } = knownSpecimen(lab, specimen);
  const shots = lab.store.records.shots({ specimen });
  return programmeFor(lab.limits.get(limitSet), details).map((point) => {
    const made = shots.find((shot) => shot.limitRow === point.row.id && shot.loading === point.loading);
    return {
      point,
      words: `${formatMultiple(point.row.multiple)}, ${loadingWords(point.loading)}: must ${requirementWords(point.row.requirement)}`,
      shot:
        made?.result == null || made.heldSeconds === null
          ? null
          : { id: made.shot, result: made.result, seconds: made.seconds, heldSeconds: made.heldSeconds },
    };
  });
}
