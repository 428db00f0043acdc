import { createHash } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import type { Subject } from "../contract/ledger-entries.ts";
import {
  type PhotographRecord,
  type PhotographView,
  photographInput,
} from "../contract/photograph-schema.ts";
import { currentEntries } from "./amendments-current.ts";
import { checkAgainstSchema } from "./check-against-schema.ts";
import { utcMoment } from "./custody-checks.ts";
import { originOf } from "./entry-origin.ts";
import { InputError } from "./input-error.ts";
import { knownSubject } from "./known-subject.ts";
import type { Lab } from "./lab.ts";
import { NotFoundError } from "./not-found-error.ts";
import { pictureForm, refuseSize } from "./photographs-form.ts";
import { publishedCopy } from "./photographs-published-copy.ts";

/** Reads a file that claims to be a photograph. @throws InputError where it cannot be read, is no file, empty or too large */
export function readPhotographFile(path: string): Uint8Array {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) throw new InputError(`${path}: there is no such file`);
  if (!found.isFile()) throw new InputError(`${path}: is not a file`);
  refuseSize(found.size, path);
  try {
    return readFileSync(path);
  } catch (error) {
    throw new InputError(`${path}: cannot be read: ${(error as Error).message}`);
  }
}

/**
 * Keeps a photograph as it is, named by the hash of its bytes, and writes to the ledger what it is of.
 *
 * @param told what is told of it beside its bytes
 * @throws InputError for bytes that are no picture and fields that are wrong, for a photograph that is there already of the same
 * specimen or job; NotFoundError for an unknown specimen or job. Nothing is stored then
 */
export function addPhotograph(lab: Lab, bytes: Uint8Array, told: unknown, where: string): PhotographView {
  const { by, ...input } = checkAgainstSchema(photographInput, told, where);
  knownSubject(lab, input.about);
  const { mediaType, width, height } = pictureForm(bytes, where);
  const takenAt = input.takenAt === undefined ? null : utcMoment(input.takenAt, "takenAt", where);
  if (takenAt !== null && Date.parse(takenAt) > lab.now().getTime() + 86_400_000)
    throw new InputError(`${where}: takenAt: ${takenAt} lies ahead`, [
      { field: "takenAt", problem: `${takenAt} lies ahead` },
    ]);
  const hash = createHash("sha256").update(bytes).digest("hex");
  const twin = photographViews(lab, input.about).find(({ record }) => record.photograph === hash);
  if (twin !== undefined)
    throw new InputError(
      `${where}: the same photograph was added to ${input.about.id} by entry ${twin.sequence}`,
    );
  const { photograph, isNew } = lab.store.photographs.keep(bytes);
  const record: PhotographRecord = {
    ...{ photograph, about: input.about, name: input.name, mediaType, bytes: bytes.length, width, height },
    ...{ shows: input.shows, takenAt, note: input.note ?? "" },
  };
  try {
    const { sequence, at } = lab.store.ledger.append("photograph-added", record, originOf(lab, by));
    return { sequence, at, by, amendments: 0, record };
  } catch (error) {
    if (isNew) lab.store.photographs.takeBack(photograph);
    throw error;
  }
}

/** All photographs, or those of one specimen or job, in the order in which they were added. */
export function photographViews(lab: Pick<Lab, "store">, about?: Subject): PhotographView[] {
  return currentEntries(lab, "photograph-added")
    .filter(
      ({ entry: { body } }) =>
        about === undefined || (body.about.kind === about.kind && body.about.id === about.id),
    )
    .map(({ entry, history }) => ({
      ...{ sequence: entry.sequence, at: entry.at, by: entry.actor },
      ...{ amendments: history.length, record: entry.body },
    }));
}

/**
 * Bytes of a photograph: the original, or the copy for publishing without anything but the picture.
 *
 * @throws NotFoundError for a photograph that the ledger does not name; StoreError where the file is missing or was swapped
 */
export function photographFile(
  lab: Pick<Lab, "store">,
  photograph: string,
  options: { publish: boolean },
): { record: PhotographRecord; bytes: Uint8Array } {
  const found = photographViews(lab).find(({ record }) => record.photograph === photograph);
  if (found === undefined) throw new NotFoundError(`there is no photograph "${photograph.slice(0, 80)}"`);
  const original = lab.store.photographs.read(photograph);
  const bytes = options.publish ? publishedCopy(original, found.record.name) : original;
  return { record: found.record, bytes };
}
