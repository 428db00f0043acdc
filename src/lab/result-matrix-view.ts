import type { MatrixShot, MatrixView } from "../contract/programme.ts";
import { resultMarks } from "../core/limits/result-marks.ts";
import { resultMatrix } from "../core/specimen/result-matrix.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import { formatWithUncertainty } from "../core/units/format-with-uncertainty.ts";
import type { ShotRecord } from "../store/records.ts";
import type { Lab } from "./lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

function figures(shot: ShotRecord): MatrixShot {
  const { seconds, heldSeconds, result } = shot;
  const uncertainty = shot.reading?.uncertainty ?? null;
  const limitSeconds = shot.verdict?.limitSeconds ?? null;
  const mark = result === null ? { glyph: "…", word: "open" } : resultMarks[result];
  return {
    shot: shot.shot,
    multiple: shot.multiple,
    loading: shot.loading,
    state: shot.state,
    result,
    ...mark,
    seconds,
    expanded: uncertainty?.expanded ?? null,
    k: uncertainty?.k ?? null,
    heldSeconds,
    limitSeconds,
    marginSeconds: seconds === null || limitSeconds === null ? null : limitSeconds - seconds,
    limitSet: shot.limitSet,
    row: shot.limitRow,
    timeWords:
      seconds !== null
        ? formatWithUncertainty(seconds, uncertainty?.expanded ?? null, "s")
        : heldSeconds !== null
          ? `> ${formatSeconds(heldSeconds)}`
          : "",
  };
}

/** The results of one specimen: multiples down, loadings across, as found and exercised apart, in each cell the newest shot and those before it. */
export function resultMatrixView(lab: Pick<Lab, "store">, specimen: string): MatrixView {
  const { details } = knownSpecimen(lab, specimen);
  const shots = lab.store.records.shots({ specimen }).map(figures);
  return { specimen, label: details.label, ...resultMatrix(shots) };
}
