import { isDeepStrictEqual } from "node:util";
import type { GateItem, LabPolicy } from "../contract/ledger-entries.ts";
import { policyBody } from "../contract/policy-schema.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import type { Lab } from "./lab.ts";

/**
 * What holds until a lab decides otherwise. Equipment past due is not used (common practice of accredited labs); a band of the
 * maker goes before a table (field practice, ANSI/NETA, seen second-hand). The cooling time constant is a working value of ours.
 */
export const defaultPolicy: LabPolicy = {
  pastDueCalibration: "block",
  precedence: "band first",
  notCold: "block",
  coolingTauSeconds: 1800,
  gate: {
    photographs: "not demanded",
    checks: "not demanded",
    programmeLocked: "not demanded",
    parties: "not demanded",
    authority: "not demanded",
  },
};

/** What the lab has decided for all its work: the newest decision in its ledger, or the default. */
export function policyOf(lab: Pick<Lab, "store">): LabPolicy {
  let policy = defaultPolicy;
  // Decisions of older versions said nothing of the gate.
  for (const { body } of lab.store.ledger.entries({ kind: "policy-set" }))
    policy = { ...defaultPolicy, ...body };
  return policy;
}

/**
 * Decides anew; what is left out stays as it was. Nothing is written where nothing changes.
 *
 * @throws InputError naming the field, what was found and what is accepted
 */
export function setPolicy(lab: Lab, change: Partial<LabPolicy>): LabPolicy {
  const before = policyOf(lab);
  const given = Object.entries(change).filter(([, value]) => value !== undefined);
  const policy = checkAgainstSchema(policyBody, { ...before, ...Object.fromEntries(given) }, "policy");
  if (!isDeepStrictEqual(policy, before)) lab.store.ledger.append("policy-set", policy, originOf(lab));
  return policy;
}

const gateWords: Readonly<Record<GateItem, string>> = {
  photographs: "photographs as received",
  checks: "checks that alter nothing",
  programmeLocked: "programme and decision rule locked",
  parties: "parties notified",
  authority: "authority to proceed",
};

/** An item of the gate in words. */
export const gateItemWords = (item: GateItem): string => gateWords[item];

/** The items of the gate, in the order in which they are asked for. */
export const gateItems = Object.keys(gateWords) as readonly GateItem[];

/** A policy in sentences, for a reader. */
export function policyWords(policy: LabPolicy): string[] {
  const demanded = gateItems.filter((item) => policy.gate[item] === "demanded").map(gateItemWords);
  return [
    `Calibration past due: ${policy.pastDueCalibration === "block" ? "no shot is made" : "shots are made and flagged"}.`,
    `Where a band and a table both apply: ${policy.precedence}.`,
    `Specimen not cold by the model: ${policy.notCold === "block" ? "no shot is made" : "the shot is made and flagged"}.`,
    `Cooling time constant of specimens: ${policy.coolingTauSeconds} s.`,
    `Before the first current of a specimen: ${demanded.length === 0 ? "nothing is demanded" : demanded.join(", ")}.`,
  ];
}
