import { Value } from "typebox/value";
import { specimenSchema } from "../contract/specimen-schema.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/** Checks what claims to be a specimen. `where` names the file or form for the message. */
export function parseSpecimen(value: unknown, where: string): Specimen {
  if (Value.Check(specimenSchema, value)) return value;
  const fields = [...Value.Errors(specimenSchema, value)].flatMap((error) => {
    const named = error.params as { requiredProperties?: string[]; additionalProperties?: string[] };
    if (named.requiredProperties !== undefined) {
      return named.requiredProperties.map((field) => ({
        field,
        problem: `is missing; needed: ${aboutField(field)}`,
      }));
    }
    if (named.additionalProperties !== undefined) {
      return named.additionalProperties.map((field) => ({
        field,
        problem: `is not a field of a specimen; accepted: ${Object.keys(specimenSchema.properties).join(", ")}`,
      }));
    }
    const field = error.instancePath.replace(/^\//, "");
    // An unknown field is told once, by the object's own error.
    if (field !== "" && !(field in specimenSchema.properties)) return [];
    // A choice is told whole, not member by member.
    if (error.keyword === "const") return [];
    const rule = error.keyword === "anyOf" ? `must be one of ${choicesOf(field)}` : error.message;
    return [
      { field: field || "file", problem: `${rule}${describeFound(value, field)}; ${aboutField(field)}` },
    ];
  });
  const words = fields.map((one) => `${one.field} ${one.problem}`).join("; ");
  throw new InputError(`${where}: not a specimen: ${words || "an object is expected"}`, fields);
}

type FieldSchema = { description?: string; anyOf?: { const?: unknown }[] };

function fieldSchema(field: string): FieldSchema | undefined {
  return (specimenSchema.properties as unknown as Readonly<Record<string, FieldSchema>>)[field];
}

function choicesOf(field: string): string {
  return (fieldSchema(field)?.anyOf ?? []).map((choice) => JSON.stringify(choice.const)).join(", ");
}

function aboutField(field: string): string {
  return (
    fieldSchema(field)?.description ??
    "a specimen is an object with at least label, ratedAmps, poles and volts"
  );
}

function describeFound(value: unknown, name: string): string {
  if (typeof value !== "object" || value === null || !(name in value)) return "";
  return `, found ${JSON.stringify((value as Record<string, unknown>)[name])}`;
}

/**
 * Whether a specimen can be received, or is the one already known by its label.
 *
 * @throws InputError where the label is already used by a specimen with other details
 */
export function checkSpecimenFits(lab: Pick<Lab, "store">, details: Specimen): void {
  const known = lab.store.records.specimenByLabel(details.label);
  if (known === null || canonicalJson(known.details) === canonicalJson(details)) return;
  throw new InputError(
    `label "${details.label}" already names specimen ${known.specimen} with other details`,
    [
      {
        field: "label",
        problem: `already names specimen ${known.specimen} with other details; a label is unique in one ledger`,
      },
    ],
  );
}

/**
 * Receives a specimen: writes it to the ledger and gives its identifier.
 *
 * @throws InputError where the label is already used by a specimen with other details
 */
export function receiveSpecimen(lab: Lab, details: Specimen): string {
  const known = lab.store.records.specimenByLabel(details.label);
  if (known !== null) {
    throw new InputError(
      `label "${details.label}" already names specimen ${known.specimen}; a label is unique in one ledger`,
      [{ field: "label", problem: `already names specimen ${known.specimen}` }],
    );
  }
  const specimen = lab.store.records.nextSpecimenId();
  lab.store.ledger.append("specimen-received", { specimen, details }, { actor: lab.actor });
  return specimen;
}

/** The specimen of that label if it was received with the same details, else it is received now. */
export function findOrReceiveSpecimen(lab: Lab, details: Specimen): string {
  checkSpecimenFits(lab, details);
  return lab.store.records.specimenByLabel(details.label)?.specimen ?? receiveSpecimen(lab, details);
}
