import { type BreakerProfile, soundParameters } from "./breaker-profile.ts";
import { breakerByName } from "./built-in-breakers.ts";
import { thermalScale } from "./thermal-scale.ts";

/** Accepted range of each plain number of a profile, ends included. */
const ranges = {
  pickupMultiple: [0.5, 1.8],
  twiceRatedShare: [0.02, 10],
  caseShare: [0, 0.6],
  caseSeconds: [60, 14_400],
  poleCoupling: [0, 0.2],
  calibratedCelsius: [0, 60],
  tripCelsius: [65, 300],
  unlatchMilliseconds: [0.5, 1000],
  unitScatter: [0, 0.2],
  shotScatter: [0, 0.2],
  missesBelowMultiple: [0, 100],
  missChance: [0, 1],
} as const;

const fields: Readonly<Record<string, (value: unknown) => string | null>> = {
  ...Object.fromEntries(
    Object.entries(ranges).map(([name, [min, max]]) => [
      name,
      (value: unknown) => numberFault(value, min, max),
    ]),
  ),
  name: (value) => textFault(value, 64),
  about: (value) => textFault(value, 400),
  basedOn: (value) => textFault(value, 64),
  healthy: truthFault,
  thermalWorks: truthFault,
  jamsAfterMiss: truthFault,
  ratedAmps: (value) => numberFault(value, 0.1, 10_000),
  poles: (value) => (value === 1 || value === 2 || value === 3 ? null : "1, 2 or 3"),
  magneticMultiple: (value) => (value === null ? null : numberFault(value, 1.5, 100, "null or ")),
  stuckUntilOperations: (value) =>
    value === null || (Number.isInteger(value) && (value as number) >= 0)
      ? null
      : "null or a whole number from 0 up",
  badPole: badPoleFault,
};

/**
 * Reads a breaker of the user's own from parsed JSON: an object with `name`, and any of the parameters of a profile.
 * What is left out is as in the built-in breaker named by `basedOn`, or as in `sound`.
 *
 * @throws TypeError that names the field, what was found and what is accepted
 */
export function parseBreakerFile(json: unknown): BreakerProfile {
  if (typeof json !== "object" || json === null || Array.isArray(json))
    throw new TypeError(`a breaker file must hold one JSON object, found ${found(json)}`);
  for (const [name, value] of Object.entries(json)) {
    const accepts = Object.hasOwn(fields, name) ? fields[name] : undefined;
    if (accepts === undefined)
      throw new TypeError(
        `breaker file: unknown field "${name}"; accepted: ${Object.keys(fields).join(", ")}`,
      );
    const accepted = accepts(value);
    if (accepted !== null)
      throw new TypeError(`breaker file: ${name} is ${found(value)}; accepted: ${accepted}`);
  }
  const { basedOn, ...given } = json as Partial<BreakerProfile> & { basedOn?: string };
  if (given.name === undefined) throw new TypeError("breaker file: name is missing; accepted: a text");
  const base =
    basedOn === undefined
      ? { ...soundParameters, about: "A breaker of the user's own." }
      : breakerByName(basedOn);
  const profile: BreakerProfile = { ...base, ...given, name: given.name };
  // Whether the heat equations have a solution does not depend on the rating alone, so try the whole range.
  for (const ratedAmps of profile.ratedAmps === undefined ? [15, 6000] : [profile.ratedAmps])
    for (const poles of profile.poles === undefined ? [1, 2, 3] : [profile.poles])
      thermalScale(profile, ratedAmps, poles);
  return profile;
}

function numberFault(value: unknown, min: number, max: number, before = ""): string | null {
  return typeof value === "number" && value >= min && value <= max
    ? null
    : `${before}a number from ${min} to ${max}`;
}

function textFault(value: unknown, longest: number): string | null {
  return typeof value === "string" && value.length > 0 && value.length <= longest
    ? null
    : `a text of 1 to ${longest} characters`;
}

function truthFault(value: unknown): string | null {
  return typeof value === "boolean" ? null : "true or false";
}

function badPoleFault(value: unknown): string | null {
  const accepted =
    'null or {"pole": 1, 2 or 3, "tripRiseFactor": a number from 0.1 to 10, or null for never}';
  if (value === null) return null;
  if (typeof value !== "object" || Object.keys(value).sort().join() !== "pole,tripRiseFactor")
    return accepted;
  const { pole, tripRiseFactor } = value as { pole: unknown; tripRiseFactor: unknown };
  const factorFits = tripRiseFactor === null || numberFault(tripRiseFactor, 0.1, 10) === null;
  return (pole === 1 || pole === 2 || pole === 3) && factorFits ? null : accepted;
}

function found(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}
