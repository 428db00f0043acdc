import type { RigView } from "../contract/http.ts";
import type { NextStepView, NextView, PlanStep } from "../contract/programme.ts";
import { findTestPoint } from "../core/limits/applicable-rows.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { ShotRecord } from "../store/records.ts";
import type { Lab } from "./lab.ts";
import { programmeLocks } from "./lock-programme.ts";
import { policyOf } from "./policy.ts";
import { planView } from "./programme-view.ts";
import { knownSpecimen } from "./specimen-view.ts";
import { type RestClock, restClock, specimenColdness } from "./thermal-history.ts";

/** What of a rig decides how specimens rest. */
export type RestingRig = Pick<RigView, "address" | "identity" | "state">;

/** The clock by which a specimen rests: that of the rig at hand, else that of the rig which made its newest shot. */
function clockOf(lab: Pick<Lab, "store">, rig: RestingRig | null, newest: ShotRecord | undefined): RestClock {
  if (rig !== null && rig.state !== "absent") {
    return restClock(rig.address, rig.identity?.emulated ?? false);
  }
  const opened = newest === undefined ? undefined : lab.store.records.shot(newest.shot)?.opened.body;
  return opened === undefined ? "wall" : restClock(opened.link, opened.rig.emulated);
}

type Allowance = Pick<NextStepView, "allowed" | "words" | "waitSeconds" | "allowedAt" | "coldness">;

function allowance(
  lab: Pick<Lab, "store" | "limits">,
  specimen: string,
  limitSet: string,
  step: PlanStep,
  rig: RestingRig | null,
  at: Date,
): Allowance {
  const now = { waitSeconds: 0, allowedAt: null, coldness: null };
  const record = knownSpecimen(lab, specimen);
  const [newest] = lab.store.records.shots({ specimen, limit: 1 });
  if (newest !== undefined && newest.closedAt === null) {
    return { ...now, allowed: false, words: `Shot ${newest.shot} is under way on it.` };
  }
  if (step.kind === "exercise" || step.multiple === null) {
    return { ...now, allowed: true, words: "Done by hand, without current: no rest is needed." };
  }
  const found = findTestPoint(
    lab.limits.get(limitSet),
    record.details,
    step.multiple,
    step.loading ?? undefined,
  );
  if (!found.ok) return { ...now, allowed: false, words: found.detail };
  const clock = clockOf(lab, rig, newest);
  const coldness = specimenColdness(lab, record, found.point, at, clock, policyOf(lab));
  const { start } = found.point.row;
  if (start !== "cold") {
    return {
      ...now,
      coldness,
      allowed: true,
      words: `Begins straight after the test ${start.after}: no rest.`,
    };
  }
  if (coldness.verdict !== "not cold" || coldness.coldAt === null) {
    return { ...now, coldness, allowed: true, words: coldness.words };
  }
  return {
    allowed: false,
    words: `Cools for ${formatSeconds(coldness.secondsUntilCold)} more, until ${coldness.coldAt}.`,
    waitSeconds: coldness.secondsUntilCold,
    allowedAt: coldness.coldAt,
    coldness,
  };
}

/**
 * The next step of every specimen with an unfinished locked programme: those that may go now first, in the order of receipt,
 * then the others by the time that they wait. Everything follows from the ledger's times, so that a restart loses nothing.
 *
 * @param rig as the bench sees it; null where there is none, and the rig of each newest shot decides
 */
export function nextSteps(lab: Pick<Lab, "store" | "limits" | "now">, rig: RestingRig | null): NextView {
  const at = lab.now();
  const specimens: NextStepView[] = [];
  for (const [specimen, lock] of programmeLocks(lab)) {
    const plan = planView(lab, specimen);
    const step = plan.steps.find((one) => one.state === "next");
    if (step === undefined) continue;
    specimens.push({
      specimen,
      label: plan.label,
      programme: lock.programme,
      limitSet: lock.limitSet,
      step,
      done: plan.done,
      planned: plan.steps.length,
      ...allowance(lab, specimen, lock.limitSet, step, rig, at),
      suspicions: plan.suspicions,
    });
  }
  const key = (one: NextStepView) => (one.allowed ? -1 : one.waitSeconds);
  specimens.sort((a, b) => key(a) - key(b) || (a.specimen < b.specimen ? -1 : 1));
  return { at: at.toISOString(), specimens };
}
