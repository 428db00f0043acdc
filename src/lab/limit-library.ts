import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { Value } from "typebox/value";
import { limitSetSchema } from "../contract/limit-set-schema.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { sha256Hex } from "../core/evidence/sha256-hex.ts";
import { checkLimitSet } from "../core/limits/check-limit-set.ts";
import type { LimitSet } from "../core/limits/limit-set.ts";
import { InputError } from "./input-error.ts";
import { projectFolder } from "./project-folder.ts";

/** The set that is used where none is named. */
export const defaultLimitSet = "ul-489-calibration";

/** All limit sets that are shipped, by identifier, each with the SHA-256 of its canonical JSON. */
export interface LimitLibrary {
  all(): readonly LimitSet[];
  /** @throws InputError that names the sets there are */
  get(id: string): LimitSet;
  hashOf(id: string): string;
}

/**
 * Reads and checks every `curves/*.json` that is a limit set.
 *
 * @throws Error naming file and problem where a file does not hold to the schema or to the rules of a limit set
 */
export function loadLimitLibrary(folder = join(projectFolder(), "curves")): LimitLibrary {
  const sets = new Map<string, { set: LimitSet; hash: string }>();
  for (const name of readdirSync(folder).sort()) {
    if (!name.endsWith(".json") || name.endsWith(".schema.json")) continue;
    const parsed: unknown = JSON.parse(readFileSync(join(folder, name), "utf8"));
    if (!Value.Check(limitSetSchema, parsed)) {
      const first = Value.Errors(limitSetSchema, parsed)[0];
      throw new Error(
        `curves/${name}: ${first?.instancePath ?? ""} ${first?.message ?? "is not a limit set"}`,
      );
    }
    const set = parsed as LimitSet;
    const problems = checkLimitSet(set);
    if (problems.length > 0) throw new Error(`curves/${name}: ${problems.join("; ")}`);
    if (sets.has(set.id)) throw new Error(`curves/${name}: the identifier ${set.id} is used twice`);
    sets.set(set.id, { set, hash: sha256Hex(canonicalJson(set)) });
  }
  const find = (id: string) => {
    const found = sets.get(id);
    if (found === undefined) {
      throw new InputError(`There is no limit set "${id}"; there are: ${[...sets.keys()].join(", ")}`);
    }
    return found;
  };
  return {
    all: () => [...sets.values()].map((one) => one.set),
    get: (id) => find(id).set,
    hashOf: (id) => find(id).hash,
  };
}
