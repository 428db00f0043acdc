import type { RigIdentity } from "../contract/ledger-entries.ts";
import { findTestPoint } from "../core/limits/applicable-rows.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import type { Loading, Specimen } from "../core/specimen/specimen.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** One test point and the rule it is judged by; simple acceptance where none is named. */
export interface PointRequest {
  limitSet: string;
  multiple: number;
  loading?: Loading | undefined;
  rule?: DecisionRule | undefined;
}

/** What a person asks for: one test point on one specimen. */
export interface ShotRequest extends PointRequest {
  specimen: string;
}

/** A request that has been checked against the limit set: what will be done, and when it ends. */
export interface PreparedShot {
  point: TestPoint;
  rule: DecisionRule;
  /** The limit plus the margin, from onset. */
  endAtSeconds: number;
  /** The rig's own hard maximum on-time, a little beyond. */
  longestSeconds: number;
}

/** The time that decides: the upper limit for a trip, the required time for a hold. */
export function decidingSeconds(point: TestPoint): number {
  const { requirement } = point.row;
  return requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds;
}

/**
 * Checks a request before anything else happens.
 *
 * @throws InputError where specimen, set, multiple or loading do not fit together; it names what there is
 */
export function prepareShot(
  lab: Pick<Lab, "limits">,
  details: Specimen,
  request: PointRequest,
): PreparedShot {
  const set = lab.limits.get(request.limitSet);
  const found = findTestPoint(set, details, request.multiple, request.loading);
  if (!found.ok) throw new InputError(found.detail);
  const deciding = decidingSeconds(found.point);
  // A late trip is worth seeing, and a guard band must be covered: 5 % and a second beyond the limit. A hold needs neither.
  const endAtSeconds =
    found.point.row.requirement.kind === "hold-for" ? deciding + 1 : Math.ceil(deciding * 1.05 + 1);
  return {
    point: found.point,
    rule: request.rule ?? { kind: "simple" },
    endAtSeconds,
    longestSeconds: endAtSeconds + 5,
  };
}

/**
 * Whether a rig can make a shot at all.
 *
 * @throws InputError saying what the rig can do
 */
export function checkRigCan(rig: RigIdentity, shot: PreparedShot): void {
  const { targetAmps } = shot.point;
  if (targetAmps < rig.lowestAmps || targetAmps > rig.highestAmps) {
    throw new InputError(
      `the test needs ${targetAmps} A; the rig ${rig.model} ${rig.serial} drives ${rig.lowestAmps} A to ${rig.highestAmps} A`,
    );
  }
  if (shot.longestSeconds > rig.longestSeconds) {
    throw new InputError(
      `the test needs ${shot.longestSeconds} s of current; the rig ${rig.model} ${rig.serial} allows ${rig.longestSeconds} s`,
    );
  }
}
