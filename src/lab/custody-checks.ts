import type { CustodyEvent } from "../contract/ledger-entries.ts";
import { isDay } from "./calibrations.ts";
import { InputError } from "./input-error.ts";

/** A clock that is ahead by less than this is no lie about the future. */
const clockSlackMs = 5 * 60_000;

/**
 * A moment with its zone as UTC with milliseconds.
 *
 * @throws InputError for one that does not exist, such as 30 February or 25 o'clock
 */
export function utcMoment(text: string, field: string, where: string): string {
  const date = new Date(text);
  if (Number.isNaN(date.getTime()) || !isDay(text.slice(0, 10))) {
    const problem = `there is no moment ${text}`;
    throw new InputError(`${where}: ${field}: ${problem}`, [{ field, problem }]);
  }
  return date.toISOString();
}

/** @throws InputError for an event observed after it was entered, one that ends before it begins, and a seal named twice */
export function checkCustodyEvent(event: CustodyEvent, enteredAt: string, where: string): void {
  const fields: { field: string; problem: string }[] = [];
  const entered = Date.parse(enteredAt);
  for (const field of ["observedAt", "observedUntil"] as const) {
    const text = event[field];
    if (text === null) continue;
    if (utcMoment(text, field, where) !== text)
      fields.push({ field, problem: `found ${text}; accepted here is UTC such as 2026-06-15T09:30:00.000Z` });
    else if (Date.parse(text) > entered + clockSlackMs)
      fields.push({ field, problem: `${text} lies after ${enteredAt}, when it was entered` });
  }
  if (event.observedUntil !== null && Date.parse(event.observedUntil) < Date.parse(event.observedAt))
    fields.push({
      field: "observedUntil",
      problem: `${event.observedUntil} lies before the beginning, ${event.observedAt}`,
    });
  const numbers = event.seals.map((seal) => seal.number);
  const twice = numbers.find((number, at) => numbers.indexOf(number) !== at);
  if (twice !== undefined) fields.push({ field: "seals", problem: `seal "${twice}" is named twice` });
  if (fields.length === 0) return;
  throw new InputError(`${where}: ${fields.map((one) => `${one.field}: ${one.problem}`).join("; ")}`, fields);
}
