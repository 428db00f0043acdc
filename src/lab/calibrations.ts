import { type CalibrationView, calibrationBody } from "../contract/calibration-schema.ts";
import type { EntryBodies } from "../contract/ledger-entries.ts";
import { currentEntries } from "./amendments-current.ts";
import { calibratedUncertainty } from "./calibrated-uncertainty.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

export type CalibrationRecord = EntryBodies["calibration-recorded"];

const units = { current: "A", time: "s", temperature: "°C" } as const;

/** The day of a date, UTC, YYYY-MM-DD. */
export const dayOf = (date: Date): string => date.toISOString().slice(0, 10);

/** Whether a day of that form exists. */
export function isDay(text: string): boolean {
  const date = new Date(`${text}T00:00:00.000Z`);
  return !Number.isNaN(date.getTime()) && dayOf(date) === text;
}

/**
 * Checks a certificate and writes it to the ledger.
 *
 * @param where the file or form, for the message
 * @throws InputError naming every field that is wrong, what was found and what is accepted; nothing is stored then
 */
export function addCalibration(lab: Lab, value: unknown, where: string): CalibrationRecord {
  const input = checkAgainstSchema(calibrationBody, value, where);
  const record: CalibrationRecord = {
    ...input,
    points: input.points ?? [],
    expandedPercent: input.expandedPercent ?? null,
    expandedSeconds: input.expandedSeconds ?? null,
  };
  const fields = calibrationProblems(record, dayOf(lab.now()));
  const twin = records(lab).find(
    ({ body }) =>
      body.certificate === record.certificate &&
      body.issuer === record.issuer &&
      body.serial === record.serial &&
      body.quantity === record.quantity,
  );
  if (twin !== undefined) {
    const problem = `${record.certificate} of ${record.issuer} is recorded already for the ${record.quantity} of ${record.serial}`;
    fields.push({ field: "certificate", problem });
  }
  if (fields.length > 0) {
    const words = fields.map((one) => `${one.field}: ${one.problem}`).join("; ");
    throw new InputError(`${where}: ${words}`, fields);
  }
  lab.store.ledger.append("calibration-recorded", record, originOf(lab));
  return record;
}

/** What is wrong with a certificate of the right form: days, units, figures that do not go together. */
export function calibrationProblems(
  record: CalibrationRecord,
  today: string,
): { field: string; problem: string }[] {
  const fields: { field: string; problem: string }[] = [];
  const wrong = (field: string, problem: string) => fields.push({ field, problem });
  for (const field of ["on", "due"] as const) {
    if (!isDay(record[field])) wrong(field, `there is no day ${record[field]}`);
  }
  if (record.on > today) wrong("on", `${record.on} lies ahead; today is ${today}`);
  if (record.due < record.on) wrong("due", `${record.due} lies before the calibration on ${record.on}`);
  const unit = units[record.quantity];
  for (const [index, point] of record.points.entries()) {
    if (point.unit !== unit)
      wrong(`points.${index}.unit`, `found ${point.unit}; accepted for ${record.quantity}: ${unit}`);
    if (record.quantity !== "temperature" && !(point.value > 0))
      wrong(`points.${index}.value`, `found ${point.value}; accepted is a value above 0`);
  }
  if (record.expandedPercent !== null && record.quantity !== "current")
    wrong("expandedPercent", `is for current; found quantity ${record.quantity}`);
  if (record.expandedSeconds !== null && record.quantity !== "time")
    wrong("expandedSeconds", `is for time; found quantity ${record.quantity}`);
  if (fields.length > 0) return fields;
  const found = calibratedUncertainty(record);
  if (found === null && record.quantity !== "temperature") {
    const field = record.quantity === "current" ? "expandedPercent" : "expandedSeconds";
    wrong(field, "neither it nor a point is given; one of them is needed");
  }
  if (found !== null && record.quantity === "current" && !(found.expanded < 100))
    wrong("points", `U and deviation come to ${found.expanded} % of reading; accepted is less than 100 %`);
  return fields;
}

const records = (lab: Pick<Lab, "store">) =>
  currentEntries(lab, "calibration-recorded").map(({ entry }) => entry);

/**
 * The record that speaks for one quantity of one serial number on a day: of those dated on or before it the latest, and of
 * several of one date the last recorded. A later certificate replaces an earlier one even where that was due later.
 */
export function calibrationInForce(
  lab: Pick<Lab, "store">,
  serial: string,
  quantity: CalibrationRecord["quantity"],
  today: string,
): CalibrationRecord | null {
  let found: CalibrationRecord | null = null;
  for (const { body } of records(lab)) {
    if (body.serial !== serial || body.quantity !== quantity || body.on > today) continue;
    if (found === null || body.on >= found.on) found = body;
  }
  return found;
}

/** All records with what they are today, newest entry first. */
export function calibrationViews(lab: Lab): CalibrationView[] {
  const today = dayOf(lab.now());
  return records(lab)
    .map(({ body, at }): CalibrationView => {
      const holds = calibrationInForce(lab, body.serial, body.quantity, today);
      const state =
        body.on > today
          ? "not yet"
          : holds !== null && (holds.certificate !== body.certificate || holds.issuer !== body.issuer)
            ? "replaced"
            : body.due < today
              ? "past due"
              : "in force";
      return { record: body, recordedAt: at, state };
    })
    .reverse();
}
