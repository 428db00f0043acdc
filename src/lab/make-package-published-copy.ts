import { createHmac, randomBytes } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { EntryBodies, EntryKind, LedgerEntry, Subject } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import type { Band } from "../core/limits/band.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import { InputError } from "./input-error.ts";
import { bandsIn, withBandsCoded } from "./make-package-published-bands.ts";

/**
 * What becomes of a field when a record is published. `code`: a keyed code named by the field, the same for the same text; a
 * person, job, panel, seal or band has one code in whatever field it stands. `subject`: the name of a job is coded, identifiers
 * are kept. `words`: kept, but for what names a lab's band. `stamp`: an authority's answer, kept unless it names what is
 * withheld elsewhere. Of a list each item meets the fate.
 */
type Fate =
  | "keep"
  | "code"
  | "person"
  | "job"
  | "panel"
  | "seal"
  | "band"
  | "subject"
  | "words"
  | "stamp"
  | "year"
  | "withhold"
  | { readonly [field: string]: Fate };

/** One thing that was left out or replaced, for the list in the package. */
export interface Withheld {
  sequence: number;
  kind: string;
  field: string;
  what: "replaced by a keyed code" | "cut to the year" | "left out";
}

/** Stands where a text was left out. */
export const withheldText = "withheld";

const specimenFates: { readonly [field in keyof Required<Specimen>]: Fate } = {
  label: "code",
  ratedAmps: "keep",
  poles: "keep",
  volts: "keep",
  frameAmps: "keep",
  tripType: "keep",
  typeLetter: "keep",
  calibratedCelsius: "keep",
  makeCode: "code",
  typeCode: "code",
  dateCode: "withhold",
  madeYear: "keep",
  job: "job",
  panel: "panel",
  circuit: "code",
  receivedOn: "year",
  condition: "withhold",
  handleAsReceived: "keep",
  operationsSinceRemoval: "keep",
  selection: "keep",
  notes: "withhold",
  demo: "keep",
  emulatedBreaker: "keep",
};

/** What a band is drawn as is published; its name and its source name the make whose code is keyed on specimens. */
const bandFates: { readonly [field in keyof Required<Band>]: Fate } = {
  id: "band",
  title: "code",
  current: "keep",
  minimum: "keep",
  maximum: "keep",
  source: {
    document: "code",
    edition: "keep",
    clause: "code",
    standing: "keep",
    doubtful: "keep",
    note: "withhold",
  },
};

/**
 * What becomes of each field of each kind of entry. A kind or a field that is not named here is left out: what is new must be
 * thought of before it is published.
 */
const fates: Readonly<Record<string, { readonly [field: string]: Fate }>> = {
  "station-opened": { station: "keep", publicKey: "keep", lab: "withhold", demo: "keep" },
  "specimen-received": { specimen: "keep", details: specimenFates },
  "handle-moved": { specimen: "keep", operations: "keep", note: "withhold" },
  "shot-opened": {
    shot: "keep",
    number: "keep",
    specimen: "keep",
    state: "keep",
    limitSet: "keep",
    limitSetHash: "keep",
    limitIncludesGuardBand: "keep",
    row: "keep",
    loading: "keep",
    ratedAmps: "keep",
    targetAmps: "keep",
    endAtSeconds: "keep",
    rule: "keep",
    confirmed: "keep",
    // The hash is over the band with its names, so that a guess at them could be tested.
    choice: { by: "keep", band: bandFates, bandHash: "withhold", words: "words" },
    coldness: "keep",
    basis: {
      currentPercent: "keep",
      currentK: "keep",
      timerSeconds: "keep",
      regulationPercent: "keep",
      pickup: "keep",
      pastDue: "keep",
      from: "withhold",
    },
    rig: {
      protocol: "keep",
      model: "keep",
      serial: "code",
      firmware: "keep",
      lowestAmps: "keep",
      highestAmps: "keep",
      timerSeconds: "keep",
      tickHz: "keep",
      lineHz: "keep",
      rawHz: "keep",
      longestSeconds: "keep",
      emulated: "keep",
    },
    link: "withhold",
  },
  "shot-closed": {
    shot: "keep",
    hostEnd: "keep",
    samples: "keep",
    blocks: "keep",
    samplesHash: "keep",
    rigResult: "keep",
    ambientCelsius: "keep",
    lineHealth: "keep",
    reading: "keep",
    verdict: "words",
  },
  "limit-set-confirmed": {
    limitSet: "keep",
    limitSetHash: "keep",
    document: "keep",
    edition: "keep",
    rows: "keep",
    by: "person",
    on: "year",
    note: "withhold",
  },
  "band-added": { band: bandFates, makeCode: "code", typeCode: "code", tableHash: "keep" },
  // Counts from a publication, which anyone can read there.
  "study-recorded": { study: "keep", fileHash: "keep" },
  "calibration-recorded": {
    instrument: "keep",
    serial: "code",
    quantity: "keep",
    certificate: "code",
    issuer: "withhold",
    on: "year",
    due: "year",
    points: "keep",
    expandedPercent: "keep",
    expandedSeconds: "keep",
    k: "keep",
  },
  "policy-set": {
    pastDueCalibration: "keep",
    precedence: "keep",
    notCold: "keep",
    coolingTauSeconds: "keep",
    gate: "keep",
  },
  "programme-locked": {
    specimen: "keep",
    programme: "keep",
    limitSet: "keep",
    rule: "keep",
    amends: "keep",
    why: "withhold",
  },
  "job-opened": {
    job: "job",
    site: "withhold",
    on: "year",
    clientReference: "withhold",
    removedBy: "person",
    authority: "withhold",
    circumstances: "withhold",
    panels: "panel",
  },
  "custody-moved": {
    about: "subject",
    event: "keep",
    from: "person",
    to: "person",
    observedAt: "year",
    observedUntil: "year",
    seals: { number: "seal", condition: "keep" },
    condition: "withhold",
    note: "withhold",
  },
  "photograph-added": {
    photograph: "keep",
    about: "subject",
    name: "withhold",
    mediaType: "keep",
    bytes: "keep",
    width: "keep",
    height: "keep",
    shows: "keep",
    takenAt: "year",
    note: "withhold",
  },
  "gate-passed": {
    specimen: "keep",
    photographs: "keep",
    programmeLock: "keep",
    checks: { check: "withhold", found: "withhold" },
    parties: { party: "person", notifiedOn: "year", answer: "withhold" },
    present: "person",
    authority: { by: "person", on: "year", words: "withhold" },
    skipped: { item: "keep", reason: "withhold" },
    note: "withhold",
  },
  "entry-amended": {
    amends: "keep",
    kind: "keep",
    about: "subject",
    path: "keep",
    before: "withhold",
    after: "withhold",
    why: "withhold",
  },
  "record-reviewed": { about: "subject", through: "keep", finding: "keep", note: "withhold" },
  "record-released": { about: "subject", issue: "keep", review: "keep", note: "withhold" },
  "signed-in": { person: "person" },
  "time-stamped": {
    entries: "keep",
    head: "keep",
    imprint: "keep",
    time: "keep",
    response: "stamp",
  },
};

const entryFates: { readonly [field: string]: Fate } = {
  sequence: "keep",
  station: "keep",
  signIn: "keep",
  at: "year",
  actor: "person",
  kind: "keep",
};

/** Makes published copies of records, and lists what it left out. */
export interface Publisher {
  entry(entry: LedgerEntry): LedgerEntry;
  specimen(details: Specimen, sequence: number): Specimen;
  /** The body of an entry, which may have been amended, as its published copy has it. */
  body<K extends EntryKind>(kind: K, body: EntryBodies[K], sequence: number): EntryBodies[K];
  /** The keyed codes that stand for a job's name, for somebody's, and for the number of a seal. */
  job(name: string): string;
  person(name: string): string;
  seal(number: string): string;
  withheld(): Withheld[];
}

/**
 * A publisher whose codes are HMAC-SHA-256 under `key`, cut to 10 hex digits: whoever lacks the key cannot test a guess at
 * a name or an address by computing its code, as with a plain hash.
 *
 * Source: RFC 2104 (1997), HMAC; 45 CFR 164.514(b)(2) as a model of what to leave out.
 *
 * @param entries all that is to be published: a band or a name in one of them is known again in the others
 */
export function publisher(key: string, entries: readonly LedgerEntry[]): Publisher {
  let list: Withheld[] = [];
  const hidden = new Set<string>();
  const bands = bandsIn(entries);
  const code = (field: string, text: string): string =>
    `${field}-${createHmac("sha256", key).update(`${field}\0${text}`).digest("hex").slice(0, 10)}`;

  const copy = (value: unknown, fate: Fate, sequence: number, kind: string, path: string): unknown => {
    if (fate === "keep" || value === null) return value;
    if (Array.isArray(value)) return value.map((one) => copy(one, fate, sequence, kind, path));
    if (fate === "subject") {
      const { kind: of, id } = value as Subject;
      return { kind: of, id: of === "job" ? copy(id, "job", sequence, kind, `${path}.id`) : id };
    }
    const tell = (what: Withheld["what"]) => {
      list.push({ sequence, kind, field: path, what });
      if (what !== "cut to the year") for (const text of textsIn(value)) hidden.add(text);
    };
    if (fate === "words") {
      const coded = withBandsCoded(value, bands, code);
      if (canonicalJson(coded) !== canonicalJson(value)) tell("replaced by a keyed code");
      return coded;
    }
    if (fate === "stamp" && typeof value === "string" && !stampNames(value, hidden)) return value;
    if (typeof fate === "object" && typeof value === "object")
      return Object.fromEntries(
        Object.entries(value).flatMap(([name, inner]) => {
          const below = path === "" ? name : `${path}.${name}`;
          const next = Object.hasOwn(fate, name) ? fate[name] : undefined;
          if (next !== undefined) return [[name, copy(inner, next, sequence, kind, below)]];
          list.push({ sequence, kind, field: below, what: "left out" });
          for (const text of textsIn(inner)) hidden.add(text);
          return [];
        }),
      );
    if (typeof value !== "string" || fate === "withhold" || fate === "stamp" || typeof fate === "object") {
      tell("left out");
      return withheldText;
    }
    if (fate === "year") {
      tell("cut to the year");
      return value.slice(0, 4);
    }
    tell("replaced by a keyed code");
    return code(fate === "code" ? (path.split(".").at(-1) ?? path) : fate, value);
  };

  const published = (entry: LedgerEntry): LedgerEntry => {
    const { body, hash, signature, previous, ...outer } = entry;
    return {
      ...(copy(outer, entryFates, entry.sequence, entry.kind, "") as typeof outer),
      body: copy(body, fates[entry.kind] ?? {}, entry.sequence, entry.kind, "body") as typeof body,
      previous,
      hash,
      signature,
    };
  };
  // All that is hidden anywhere must be known before it can be looked for in an authority's answer.
  for (const entry of entries) published(entry);
  list = [];

  return {
    entry: published,
    specimen: (details, sequence) =>
      copy(details, specimenFates, sequence, "specimen-received", "body.details") as Specimen,
    body: (kind, body, sequence) => copy(body, fates[kind] ?? {}, sequence, kind, "body") as typeof body,
    job: (name) => code("job", name),
    person: (name) => code("person", name),
    seal: (number) => code("seal", number),
    withheld: () => [...new Map(list.map((one) => [`${one.sequence} ${one.field}`, one])).values()],
  };
}

/** All texts in a value, however deep. */
function textsIn(value: unknown): string[] {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

/**
 * Whether an authority's answer names what is hidden elsewhere, as where a lab stamps for itself under somebody's name. Texts
 * without a letter or of fewer than four characters are not looked for: bytes that mean something else hold them by chance.
 */
function stampNames(response: string, hidden: ReadonlySet<string>): boolean {
  const bytes = Buffer.from(response, "base64").toString("latin1").toLowerCase();
  // Certificates hold texts in Latin, UTF-8 or big-endian UTF-16.
  const forms = (text: string): string[] => [
    text,
    Buffer.from(text, "utf8").toString("latin1"),
    Buffer.from(text, "utf16le").swap16().toString("latin1"),
  ];
  return [...hidden].some(
    (text) =>
      text.length > 3 &&
      /\p{L}/u.test(text) &&
      forms(text).some((form) => bytes.includes(form.toLowerCase())),
  );
}

const keyFile = "publication-key";

/**
 * The key of a lab's codes, kept in its data directory and made where it is missing, so that packages published at different
 * times name the same thing by the same code.
 *
 * @throws InputError where the file does not hold 64 hexadecimal digits
 */
export function publicationKey(dataDir: string): string {
  const path = join(dataDir, keyFile);
  if (!existsSync(path))
    writeFileSync(path, `${randomBytes(32).toString("hex")}\n`, { mode: 0o600, flag: "wx" });
  const key = readFileSync(path, "utf8").trim();
  if (!/^[0-9a-f]{64}$/.test(key))
    throw new InputError(`${path}: accepted is one line of 64 hexadecimal digits; restore it from a backup`);
  return key;
}
