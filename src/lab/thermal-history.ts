import { parseLinkAddress } from "../bench/parse-link-address.ts";
import type { LabPolicy, ShotColdness } from "../contract/ledger-entries.ts";
import type { ColdnessView } from "../contract/programme.ts";
import { findTestPoint } from "../core/limits/applicable-rows.ts";
import type { TestPoint } from "../core/limits/limit-set.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { coldness } from "../core/thermal/coldness.ts";
import type { CoolingModel, ThermalStretch } from "../core/thermal/residual-heat.ts";
import { tripSeconds } from "../core/thermal/trip-time.ts";
import { formatSeconds } from "../core/units/format-seconds.ts";
import type { FullShot, SpecimenRecord } from "../store/records.ts";
import { emulatedRestSeconds } from "./emulated-mounts.ts";
import { type Lab, uncalibratedBasis } from "./lab.ts";
import { defaultLimitSet } from "./limit-library.ts";
import { policyOf } from "./policy.ts";
import { RigError } from "./rig-error.ts";

/**
 * By which clock a specimen rests between shots. `wall`: by the times in the ledger. `rested by the rig`: an emulated rig
 * that this program drives lets it cool before each shot. `unknown`: an emulated rig behind a line, with a clock of its own.
 */
export type RestClock = "wall" | "rested by the rig" | "unknown";

/** The clock that a rig at an address rests specimens by. */
export function restClock(link: string, rigIsEmulated: boolean): RestClock {
  if (parseLinkAddress(link).kind === "emulated") return "rested by the rig";
  return rigIsEmulated ? "unknown" : "wall";
}

/** Time constant under current where no limit set speaks of 200 %, seconds: a working value of ours. */
const workingTauSeconds = 150;

/**
 * The model that decides on coldness until the specimen's own shots are fitted. Heating: trips at 200 % in half the time
 * allowed there for its rating, so that large ones are slower. Cooling: the lab's constant, but never faster than heating.
 * All are working values.
 */
export function coolingModelOf(
  lab: Pick<Lab, "limits">,
  details: Specimen,
  policy: Pick<LabPolicy, "coolingTauSeconds">,
): CoolingModel {
  const { pickup } = uncalibratedBasis(0);
  const found = findTestPoint(lab.limits.get(defaultLimitSet), details, 2);
  const requirement = found.ok ? found.point.row.requirement : null;
  const heatingTauSeconds =
    requirement === null || requirement.kind === "hold-for"
      ? workingTauSeconds
      : requirement.maxSeconds / 2 / tripSeconds({ tauSeconds: 1, pickup }, 2);
  return {
    heatingTauSeconds,
    coolingTauSeconds: Math.max(policy.coolingTauSeconds, heatingTauSeconds),
    pickup,
  };
}

/** A stretch of a specimen's past, and whether it ended by a trip. */
export interface PastStretch extends ThermalStretch {
  tripped: boolean;
}

/** Multiple and time of a shot's current. A shot that a crash cut off counts as carried to its planned end. */
function stretchOf({ opened, closed }: FullShot): PastStretch {
  const planned = {
    multiple: opened.body.targetAmps / opened.body.ratedAmps,
    seconds: opened.body.endAtSeconds,
    tripped: false,
  };
  if (closed === null) return planned;
  const { reading, hostEnd } = closed.body;
  const multiple = reading.effectiveAmps / opened.body.ratedAmps;
  const tripped = reading.outcome === "tripped";
  if (hostEnd !== "host-died") return { multiple, seconds: reading.heldSeconds, tripped };
  return {
    tripped,
    multiple: Math.max(multiple, planned.multiple),
    seconds: Math.max(reading.heldSeconds, planned.seconds),
  };
}

/**
 * The thermal past of a specimen up to `at`: every shot and every rest, oldest first. All poles count as one body, whichever
 * was loaded: they share a case, and a neighbour's heat is not told apart.
 */
export function thermalHistory(
  lab: Pick<Lab, "store">,
  specimen: string,
  at: Date,
  clock: RestClock,
): PastStretch[] {
  const stretches: PastStretch[] = [];
  let since: number | null = null;
  const rest = (until: number, by: RestClock) => {
    if (since === null) return;
    const seconds = by === "rested by the rig" ? emulatedRestSeconds : Math.max(0, (until - since) / 1000);
    stretches.push({ multiple: 0, seconds, tripped: false });
  };
  for (const record of lab.store.records.shots({ specimen }).reverse()) {
    const shot = lab.store.records.shot(record.shot);
    if (shot === null) continue;
    rest(Date.parse(record.openedAt), restClock(shot.opened.body.link, shot.opened.body.rig.emulated));
    stretches.push(stretchOf(shot));
    since = Date.parse(record.closedAt ?? record.openedAt);
  }
  rest(at.getTime(), clock);
  return stretches;
}

/**
 * A past as the model must see it: what tripped by heat had reached the pick-up then, even where working values would have
 * let it trip later. Trips within a tenth of a second are taken for magnetic ones.
 */
function asHeated(past: readonly PastStretch[], model: CoolingModel): ThermalStretch[] {
  return past.map(({ multiple, seconds, tripped }) => {
    if (!tripped || seconds < 0.1 || multiple <= model.pickup) return { multiple, seconds };
    const needed = tripSeconds({ tauSeconds: model.heatingTauSeconds, pickup: model.pickup }, multiple);
    return { multiple, seconds: Math.max(seconds, needed) };
  });
}

/** Whether a specimen is cold for a test point at a time, by the model and its own past. */
export function specimenColdness(
  lab: Pick<Lab, "store" | "limits">,
  specimen: Pick<SpecimenRecord, "specimen" | "details">,
  point: Pick<TestPoint, "row">,
  at: Date,
  clock: RestClock,
  policy: Pick<LabPolicy, "coolingTauSeconds">,
): ColdnessView {
  const past = thermalHistory(lab, specimen.specimen, at, clock);
  const cold = { verdict: "cold", preload: 0, secondsUntilCold: 0, coldAt: null } as const;
  if (past.length === 0) {
    return { ...cold, words: "No current since it was received: taken to be at room temperature." };
  }
  if (clock === "unknown") {
    return {
      ...cold,
      verdict: "unknown",
      words:
        "Not known: an emulated rig behind a line rests by a clock of its own, which the ledger's times do not follow.",
    };
  }
  const model = coolingModelOf(lab, specimen.details, policy);
  const found = coldness(model, asHeated(past, model), point.row.multiple);
  const heat = `Heat left equals ${found.preload.toFixed(3)} times rated current`;
  const by = `by the model (working values: pick-up ${model.pickup}, time constant ${formatSeconds(model.heatingTauSeconds)} under current, ${formatSeconds(model.coolingTauSeconds)} at rest; all poles as one body)`;
  const { verdict, preload, secondsUntilCold } = found;
  if (clock === "rested by the rig") {
    const rested = `The emulated rig lets it rest ${formatSeconds(emulatedRestSeconds)} of its own clock before each shot`;
    return { verdict, preload, secondsUntilCold: 0, coldAt: null, words: `${rested}. ${heat} ${by}.` };
  }
  if (verdict === "cold") return { ...cold, preload, words: `Cold. ${heat} ${by}.` };
  const coldAt = new Date(at.getTime() + secondsUntilCold * 1000).toISOString();
  return {
    verdict,
    preload,
    secondsUntilCold,
    coldAt,
    words: `Not cold: ${formatSeconds(secondsUntilCold)} more, until ${coldAt}. ${heat} ${by}.`,
  };
}

/**
 * Coldness as it is stored with a shot that is about to begin.
 *
 * @throws RigError with the time left, where the test point asks for a cold specimen, the lab's policy blocks one that is not,
 * and the specimen rests by the wall clock
 */
export function coldnessBeforeShot(
  lab: Pick<Lab, "store" | "limits" | "now">,
  specimen: SpecimenRecord,
  point: Pick<TestPoint, "row">,
  clock: RestClock,
): ShotColdness {
  const policy = policyOf(lab);
  const found = specimenColdness(lab, specimen, point, lab.now(), clock, policy);
  const { verdict, preload, words, coldAt, secondsUntilCold } = found;
  if (policy.notCold === "block" && point.row.start === "cold" && verdict === "not cold" && coldAt !== null) {
    throw new RigError(
      `${specimen.details.label} is not cold: ${formatSeconds(secondsUntilCold)} more, until ${coldAt}; the lab's policy makes no shot on a warm specimen`,
    );
  }
  return { verdict, preload, words };
}
