import type { EventInterval } from "../event-interval.ts";
import { type FamilyInput, readNumbers, readWholes, sameLength } from "../family-input.ts";
import type { SurvivalObservation } from "../survival-observation.ts";

/** `time` and `status`, pair by pair. @throws RangeError naming the input and the place in the list */
export function readObservations(input: FamilyInput): SurvivalObservation[] {
  const times = readNumbers(input, "time");
  const status = readWholes(input, "status");
  sameLength("status", status, "time", times);
  return times.map((time, index) => {
    if (time < 0) throw new RangeError(`"time[${index}]" must be a number of 0 or more but is ${time}`);
    const seen = status[index] ?? 0;
    if (seen > 1) throw new RangeError(`"status[${index}]" must be 1 (event) or 0 (censored) but is ${seen}`);
    return { time, event: seen === 1 };
  });
}

/** A list of labels, text or numbers, as places in the sorted list of those that occur. @throws RangeError naming the place */
export function readLabels(
  input: FamilyInput,
  key: string,
  count: number,
): { labels: (string | number)[]; places: number[] } {
  const list = input[key];
  if (!Array.isArray(list)) throw new RangeError(`"${key}" must be a list of labels but is ${shown(list)}`);
  sameLength(key, list, "time", new Array(count));
  const found = list.map((value: unknown, index) => {
    if (typeof value === "string" || (typeof value === "number" && Number.isFinite(value))) return value;
    throw new RangeError(`"${key}[${index}]" must be text or a number but is ${shown(value)}`);
  });
  const labels = [...new Set(found)].sort(byLabel);
  const place = new Map(labels.map((label, index) => [label, index]));
  return { labels, places: found.map((label) => place.get(label) ?? 0) };
}

/** `lower` and `upper` pair by pair; a null lower is left-censored, a null upper right-censored. @throws RangeError naming the place */
export function readIntervals(input: FamilyInput, where = ""): EventInterval[] {
  const lower = readBounds(input, "lower", where);
  const upper = readBounds(input, "upper", where);
  if (lower.length !== upper.length) {
    throw new RangeError(
      `"${where}lower" must have as many values as "${where}upper" (${upper.length}) but has ${lower.length}`,
    );
  }
  return lower.map((low, index) => {
    const high = upper[index] ?? null;
    const exact = low !== null && low === high;
    if ((low ?? 0) < 0 || (high !== null && (high <= 0 || high < (low ?? 0))) || (exact && low <= 0)) {
      throw new RangeError(
        `"${where}lower[${index}]" and upper must be 0 <= lower <= upper, upper above 0, but are ${low} and ${high}`,
      );
    }
    if (low === null && high === null) {
      throw new RangeError(`"${where}lower[${index}]" and upper are both null; one of them must be a number`);
    }
    return { lower: low ?? Number.NEGATIVE_INFINITY, upper: high ?? Number.POSITIVE_INFINITY };
  });
}

/** One value stands for a list of one. */
function readBounds(input: FamilyInput, key: string, where: string): (number | null)[] {
  if (!Object.hasOwn(input, key)) throw new RangeError(`"${where}${key}" is missing`);
  const value = input[key];
  const list: unknown[] = Array.isArray(value) ? value : [value];
  if (list.length === 0) throw new RangeError(`"${where}${key}" must be a list of one or more values`);
  return list.map((bound, index) => {
    if (bound === null || bound === "Infinity" || bound === "-Infinity") return null;
    if (typeof bound === "number" && Number.isFinite(bound)) return bound;
    throw new RangeError(`"${where}${key}[${index}]" must be a finite number or null but is ${shown(bound)}`);
  });
}

function byLabel(a: string | number, b: string | number): number {
  if (typeof a === "number" && typeof b === "number") return a - b;
  const [left, right] = [String(a).toLowerCase(), String(b).toLowerCase()];
  return left < right ? -1 : left > right ? 1 : 0;
}

function shown(value: unknown): string {
  return value === undefined ? "missing" : JSON.stringify(value);
}
