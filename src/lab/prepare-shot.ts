import type { LimitChoice, MeasurementBasis, RigIdentity } from "../contract/ledger-entries.ts";
import { findTestPoint } from "../core/limits/applicable-rows.ts";
import { type Band, bandAt, bandRequirement } from "../core/limits/band.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import type { DecisionRule } from "../core/limits/verdict.ts";
import type { Loading, Specimen } from "../core/specimen/specimen.ts";
import { checkRuleBeforeShot, decidingSeconds, type LimitAhead } from "./check-rule-before-shot.ts";
import { inBandUnit, limitChoice } from "./choose-limit.ts";
import { isConfirmed } from "./confirm-limit-set.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { measurementBasis } from "./measurement-basis.ts";
import { policyOf } from "./policy.ts";
import { RigError } from "./rig-error.ts";

/** One test point and the rule it is judged by; simple acceptance where none is named. */
export interface PointRequest {
  limitSet: string;
  multiple: number;
  loading?: Loading | undefined;
  rule?: DecisionRule | undefined;
  /** Identifier of a band of the lab; left out, one whose codes are the specimen's. */
  band?: string | undefined;
}

/** What a person asks for: one test point on one specimen. */
export interface ShotRequest extends PointRequest {
  specimen: string;
}

/** A request that has been checked against the limit set: what will be done, by what it is judged, and when it ends. */
export interface PreparedShot {
  point: TestPoint;
  rule: DecisionRule;
  /** Only where a lab's band applies beside the row. */
  choice?: LimitChoice;
  /** Whether the lab has confirmed what the shot is judged by. */
  confirmed: boolean;
  basis: MeasurementBasis;
  /** The limit with its guard band, plus the margin, from onset. */
  endAtSeconds: number;
  /** The rig's own hard maximum on-time, a little beyond. */
  longestSeconds: number;
}

/**
 * Checks a request before anything else happens.
 *
 * @param rig whose calibration records say what the uncertainty rests on
 * @throws InputError where specimen, set, multiple, loading, band or rule do not fit together; it names what there is
 * @throws RigError where a calibration of the rig is past due and the lab's policy lets that block
 */
export function prepareShot(
  lab: Pick<Lab, "limits" | "store" | "now">,
  details: Specimen,
  request: PointRequest,
  rig: RigIdentity,
): PreparedShot {
  const set = lab.limits.get(request.limitSet);
  const found = findTestPoint(set, details, request.multiple, request.loading);
  if (!found.ok) throw new InputError(found.detail);
  const { point } = found;
  const rule = request.rule ?? { kind: "simple" };
  const choice = limitChoice(lab, details, point, request.band);
  const basis = measurementBasis(lab, rig, point.targetAmps);
  if (basis.pastDue === true && policyOf(lab).pastDueCalibration === "block") {
    throw new RigError(
      `calibration past due, and the lab's policy is that this blocks: ${basis.from}. Record a new certificate, or decide that it is only flagged`,
    );
  }
  const limit: LimitAhead =
    choice?.by === "band"
      ? bandAhead(choice.band, details.ratedAmps, point.targetAmps, basis)
      : {
          requirement: point.row.requirement,
          multiple: point.row.multiple,
          limitIncludesGuardBand: set.limitIncludesGuardBand,
        };
  const width = checkRuleBeforeShot(rule, limit, basis, rig.lineHz);
  const deciding = decidingSeconds(limit.requirement) + width;
  // A late trip is worth seeing: 5 % and a second beyond the limit with its guard band. A hold needs neither.
  const endAtSeconds = limit.requirement.kind === "hold-for" ? deciding + 1 : Math.ceil(deciding * 1.05 + 1);
  return {
    point,
    rule,
    ...(choice === undefined ? {} : { choice }),
    confirmed:
      choice?.by === "band"
        ? choice.band.source.standing === "read in the document"
        : isConfirmed(lab, set.id, point.row.id),
    basis,
    endAtSeconds,
    longestSeconds: endAtSeconds + 5,
  };
}

/** What a band asks at the lowest current that regulation allows, where its longest time is longest. */
function bandAhead(band: Band, ratedAmps: number, targetAmps: number, basis: MeasurementBasis): LimitAhead {
  const lowest = targetAmps * (1 - basis.regulationPercent / 100);
  const at = (amps: number) => bandAt(band, inBandUnit(band, amps, ratedAmps));
  const edges = at(lowest) ?? at(targetAmps);
  if (edges === null) throw new Error(`band ${band.id} has no edges at ${targetAmps} A`);
  const multiple = (at(lowest) === null ? targetAmps : lowest) / ratedAmps;
  return { requirement: bandRequirement(edges), multiple, limitIncludesGuardBand: false };
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
