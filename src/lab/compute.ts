import { proportionFamilies } from "../core/stats/compute-families.ts";
import { poolingFamilies } from "../core/stats/families/pooling-families.ts";
import { survivalFamilies } from "../core/stats/families/survival-families.ts";
import type { Family } from "../core/stats/family.ts";
import { thermalFamily } from "../core/thermal/thermal-family.ts";
import { InputError } from "./input-error.ts";
import { measurementFamilies } from "./measurement-families.ts";

/** Every method that can be computed from plain data, by name. */
export const families: readonly Family[] = [
  ...proportionFamilies,
  ...poolingFamilies,
  ...survivalFamilies,
  thermalFamily,
  ...measurementFamilies,
].toSorted((a, b) => (a.name < b.name ? -1 : 1));

/**
 * Computes one family from one JSON object. Infinities are the strings "Infinity" and "-Infinity" on both sides; what cannot
 * be estimated is null.
 *
 * @throws InputError naming the input, the value found and what is accepted
 */
export function computeFamily(name: string, input: unknown): Record<string, unknown> {
  const family = families.find((one) => one.name === name);
  if (family === undefined) {
    throw new InputError(
      `there is no method "${name}"; there are: ${families.map((one) => one.name).join(", ")}`,
    );
  }
  if (typeof input !== "object" || input === null || Array.isArray(input)) {
    throw new InputError(`${name}: expected one JSON object with ${Object.keys(family.inputs).join(", ")}`);
  }
  try {
    const output = family.compute(mapValues(input as Record<string, unknown>, decodeInfinity));
    return mapValues(output, encodeNumber);
  } catch (error) {
    if (error instanceof RangeError || error instanceof TypeError)
      throw new InputError(`${name}: ${error.message}`);
    throw error;
  }
}

function decodeInfinity(value: unknown): unknown {
  if (value === "Infinity") return Number.POSITIVE_INFINITY;
  if (value === "-Infinity") return Number.NEGATIVE_INFINITY;
  return value;
}

/** A number that is none would read as an answer; JSON has no infinities. */
function encodeNumber(value: unknown): unknown {
  if (typeof value !== "number" || Number.isFinite(value)) return value;
  if (Number.isNaN(value)) return null;
  return value > 0 ? "Infinity" : "-Infinity";
}

function mapValues(
  from: Record<string, unknown>,
  change: (value: unknown) => unknown,
): Record<string, unknown> {
  const deep = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(deep);
    if (typeof value === "object" && value !== null)
      return mapValues(value as Record<string, unknown>, change);
    return change(value);
  };
  return Object.fromEntries(Object.entries(from).map(([key, value]) => [key, deep(value)]));
}
