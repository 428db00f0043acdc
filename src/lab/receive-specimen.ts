import { specimenSchema } from "../contract/specimen-schema.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";

/**
 * Checks what claims to be a specimen. `where` names the file or form for the message.
 *
 * @throws InputError naming every field that is wrong
 */
export function parseSpecimen(value: unknown, where: string): Specimen {
  return checkAgainstSchema(specimenSchema, value, `${where}: not a specimen`);
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
  lab.store.ledger.append("specimen-received", { specimen, details }, originOf(lab));
  return specimen;
}

/** The specimen of that label if it was received with the same details, else it is received now. */
export function findOrReceiveSpecimen(lab: Lab, details: Specimen): string {
  checkSpecimenFits(lab, details);
  return lab.store.records.specimenByLabel(details.label)?.specimen ?? receiveSpecimen(lab, details);
}
