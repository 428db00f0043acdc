import type { EntryKind, LedgerEntry } from "../contract/ledger-entries.ts";

/** Kinds of which nothing is amended, and what to do instead. */
const fixedKinds: { readonly [K in EntryKind]?: string } = {
  "station-opened": "it names the station and its key, on which every signature stands",
  "shot-closed":
    "it is measured data: samples, reading and verdict are what the rig sent and what follows from it, and cannot be amended; make another shot, or say in an amendment of /state of its opening, or in a review, why it does not count",
  "entry-amended": "an amendment is amended by amending the same field of the first entry again",
  "record-reviewed": "a review is what somebody found at the time; review the record again",
  "record-released": "a release is what was given out; release the record again",
  "time-stamped": "it is what an authority outside signed; ask for another stamp",
  "roles-given": "roles are given anew, and the newest holds",
  "password-set": "a password is set anew",
  "signed-in": "it is what happened; sign in again",
  "policy-set": "a policy is decided anew, and the newest holds",
  "programme-locked": "a programme is locked anew, with the reason, and the newest holds",
};

/** Fields that stay as they are, by the first step or two of their path, with the reason. */
const fixedFields: { readonly [K in EntryKind]?: Readonly<Record<string, string>> } = {
  "specimen-received": { "/specimen": "other entries name the specimen by it" },
  "handle-moved": { "/specimen": "the operations are counted on it; record the movement on the right one" },
  "gate-passed": {
    "/specimen": "the gate is that specimen's",
    "/photographs": "it is what was there at the time",
    "/programmeLock": "it is what was there at the time",
  },
  "job-opened": { "/job": "specimens name the job by it; amend the field job of the specimens" },
  "photograph-added": {
    "/photograph": "it is the hash of the file",
    "/mediaType": "it was read from the file",
    "/bytes": "it was read from the file",
    "/width": "it was read from the file",
    "/height": "it was read from the file",
  },
  "band-added": {
    "/band": "shots hold the band whole, with its hash; add the band again under another name",
    "/tableHash": "it is the hash of the file that was read",
  },
  "limit-set-confirmed": {
    "/limitSet": "confirm the other limit set",
    "/limitSetHash": "it is the hash of what was confirmed",
    "/rows": "confirm the rows again",
  },
  "study-recorded": { "/fileHash": "it is the hash of the file that was read" },
};

/** Why a field of an entry is not amended, with what to do instead; null where it is. */
export function refusalToAmend(entry: LedgerEntry, path: string): string | null {
  const name = `entry ${entry.sequence} (${entry.kind})`;
  const fixedKind = fixedKinds[entry.kind];
  if (fixedKind !== undefined) return `${name} is not amended: ${fixedKind}`;
  if (entry.kind === "shot-opened" && path !== "/state")
    return `${path} of ${name} was decided before the current, and the verdict stands on it; accepted is /state, whole: the state of the specimen before the shot`;
  const reason = Object.entries(fixedFields[entry.kind] ?? {}).find(
    ([fixed]) => path === fixed || path.startsWith(`${fixed}/`),
  )?.[1];
  return reason === undefined ? null : `${path} of ${name} is not amended: ${reason}`;
}
