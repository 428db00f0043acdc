import type { ShotLine } from "../../src/contract/http.ts";
import type { Verdict } from "../../src/core/limits/verdict.ts";

/** Results to filter by; `all` is no filter. */
export type ResultFilter = "all" | Verdict["result"];

/** The lines whose specimen, job or identifier holds every word of the search and whose result is the wanted one. */
export function filterShots(lines: readonly ShotLine[], search: string, result: ResultFilter): ShotLine[] {
  const words = search.toLowerCase().split(/\s+/);
  return lines.filter((line) => {
    if (result !== "all" && line.result !== result) return false;
    const text = [line.label, line.job, line.id, line.specimen].join(" ").toLowerCase();
    return words.every((word) => text.includes(word));
  });
}
