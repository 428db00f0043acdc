import type { Band } from "./band.ts";
import type { TestPoint } from "./limit-set.ts";

/** Which comes first where a published band and a table both exist. Chosen by the lab, and printed. */
export type Precedence = "band first" | "table first";

/** What a shot is judged by, with the choice in words; or that there is nothing. */
export type ChosenLimit =
  | { ok: true; by: "band"; band: Band; words: string }
  | { ok: true; by: "table"; point: TestPoint; words: string }
  | { ok: false; code: "no-limit"; detail: string };

/**
 * Chooses between a maker's published band and a table of limits, and says why.
 *
 * Field practice takes the maker's band first and a table only where no curve is available (ANSI/NETA, seen second-hand).
 */
export function chooseLimit(
  precedence: Precedence,
  offered: { band: Band | null; point: TestPoint | null },
): ChosenLimit {
  const { band, point } = offered;
  const order = `Order of precedence: ${precedence}.`;
  if (band !== null && (precedence === "band first" || point === null)) {
    const other =
      point === null ? "no table has a row here" : `row ${point.row.id} of ${point.limitSet} stands back`;
    return {
      ok: true,
      by: "band",
      band,
      words: `${order} Judged by the published band ${band.id}; ${other}.`,
    };
  }
  if (point !== null) {
    const other = band === null ? "no published band was given" : `the published band ${band.id} stands back`;
    return {
      ok: true,
      by: "table",
      point,
      words: `${order} Judged by row ${point.row.id} of ${point.limitSet}; ${other}.`,
    };
  }
  return {
    ok: false,
    code: "no-limit",
    detail: "there is neither a published band nor a row of a limit set to judge by",
  };
}
