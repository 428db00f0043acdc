import type { JobDetails } from "../contract/ledger-entries.ts";
import { dayOf, isDay } from "./calibrations.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** @throws InputError for a day that does not exist or lies ahead, and for a panel named twice */
export function checkJobDays(lab: Pick<Lab, "now">, { on, panels }: JobDetails, where: string): void {
  const fields: { field: string; problem: string }[] = [];
  const today = dayOf(lab.now());
  if (!isDay(on)) fields.push({ field: "on", problem: `there is no day ${on}` });
  else if (on > today) fields.push({ field: "on", problem: `${on} lies ahead; today is ${today}` });
  const twice = panels.find((panel, at) => panels.indexOf(panel) !== at);
  if (twice !== undefined) fields.push({ field: "panels", problem: `"${twice}" is named twice` });
  if (fields.length === 0) return;
  throw new InputError(`${where}: ${fields.map((one) => `${one.field}: ${one.problem}`).join("; ")}`, fields);
}
