import { isDeepStrictEqual } from "node:util";
import type { LockProgramme, ProgrammeLock } from "../contract/programme.ts";
import { programmeFor } from "../core/limits/applicable-rows.ts";
import { checkRule } from "../core/limits/decision-rule.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import { programmeNamed, programmes } from "../core/specimen/programme.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { knownSpecimen } from "./specimen-view.ts";

/** The newest lock of every specimen that has one. */
export function programmeLocks(lab: Pick<Lab, "store">): Map<string, ProgrammeLock> {
  const locks = new Map<string, ProgrammeLock>();
  for (const { sequence, at, actor, body } of lab.store.ledger.entries({ kind: "programme-locked" })) {
    const { specimen, ...locked } = body;
    const first = lab.store.records.shots({ specimen }).at(-1);
    const beforeFirstCurrent = first === undefined || first.sequence > sequence;
    locks.set(specimen, { sequence, at, actor, ...locked, beforeFirstCurrent });
  }
  return locks;
}

/** What is locked for a specimen, or null. */
export function programmeLock(lab: Pick<Lab, "store">, specimen: string): ProgrammeLock | null {
  return programmeLocks(lab).get(specimen) ?? null;
}

/**
 * Locks programme, limit set and decision rule of a specimen before its first current. A later one is an amendment and needs a
 * reason, as does a first one after current has flowed.
 *
 * @throws NotFoundError for an unknown specimen, InputError naming what is missing and what is accepted
 */
export function lockProgramme(lab: Lab, specimen: string, request: LockProgramme): ProgrammeLock {
  const { details, shots } = knownSpecimen(lab, specimen);
  const { programme, limitSet, rule } = request;
  if (programmeNamed(programme) === null) {
    const accepted = programmes.map((one) => `"${one.name}"`).join(", ");
    throw new InputError(`programme: found "${programme}"; accepted: ${accepted}`);
  }
  if (programmeFor(lab.limits.get(limitSet), details).length === 0) {
    throw new InputError(
      `limitSet: ${limitSet} has no test point for ${details.label} (${details.ratedAmps} A, ${details.volts} V)`,
    );
  }
  try {
    checkRule(rule);
  } catch (error) {
    throw new InputError(`rule: ${(error as Error).message}`);
  }
  const before = programmeLock(lab, specimen);
  const asked = { programme, limitSet, rule };
  if (
    before !== null &&
    isDeepStrictEqual(asked, {
      programme: before.programme,
      limitSet: before.limitSet,
      rule: before.rule,
    })
  )
    return before;
  const why = (request.why ?? "").trim();
  if (why === "" && before !== null) {
    throw new InputError(
      `why: programme, limit set and rule of ${details.label} were locked by entry ${before.sequence}; a change is an amendment and needs a reason`,
    );
  }
  if (why === "" && shots > 0) {
    throw new InputError(
      `why: ${shots === 1 ? "a shot was" : `${shots} shots were`} made on ${details.label} before any programme was locked; locking one now needs a reason`,
    );
  }
  const amends = before?.sequence ?? null;
  lab.store.ledger.append("programme-locked", { specimen, ...asked, amends, why }, originOf(lab));
  const locked = programmeLock(lab, specimen);
  if (locked === null) throw new Error(`the lock of ${specimen} is not in the ledger after it was written`);
  return locked;
}

/**
 * The rule by which a shot is judged: the locked one where the specimen has one for this limit set, else the one asked for.
 *
 * @throws InputError where another rule than the locked one is asked for
 */
export function ruleInForce(
  lab: Pick<Lab, "store">,
  request: { specimen: string; limitSet: string; rule?: DecisionRule | undefined },
): DecisionRule | undefined {
  const lock = programmeLock(lab, request.specimen);
  if (lock === null || lock.limitSet !== request.limitSet) return request.rule;
  if (request.rule !== undefined && !isDeepStrictEqual(request.rule, lock.rule)) {
    throw new InputError(
      `rule: found ${JSON.stringify(request.rule)}; entry ${lock.sequence} locked ${JSON.stringify(lock.rule)}; amend the programme first`,
    );
  }
  return lock.rule;
}
