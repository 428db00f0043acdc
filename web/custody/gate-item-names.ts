import type { GateItem } from "../../src/contract/ledger-entries.ts";

/** The items of the gate as heads of its rows. */
export const gateItemNames: Readonly<Record<GateItem, string>> = {
  photographs: "Photographs as received",
  checks: "Checks that alter nothing",
  programmeLocked: "Programme and decision rule locked",
  parties: "Parties notified",
  authority: "Authority to proceed",
};
