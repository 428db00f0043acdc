import type Database from "better-sqlite3";
import type { EntryBodies, LedgerEntry } from "../contract/ledger-entries.ts";
import { canonicalJson } from "../core/evidence/canonical-json.ts";
import { pointerSteps, valueAt, withValueAt } from "../core/evidence/json-pointer.ts";
import type { OperationState, Specimen } from "../core/specimen/specimen.ts";
import { caseWriter } from "./case-tables.ts";
import { StoreError } from "./store-error.ts";

interface SpecimenState {
  specimen: string;
  sequence: number;
  details: string;
  label: string;
  rated_amps: number;
  poles: number;
  volts: number;
  job: string | null;
  demo: number;
  operations: number;
  exercised: number;
}

/**
 * Enters what follows from one ledger entry into the projections of `database`. Entries must come in order.
 *
 * An amendment of a specimen's details, of a count of operations or of the state before a shot shows at once.
 *
 * A specimen is as found until its first shot or handle movement; each handle movement and each trip is an operation.
 *
 * @throws StoreError `refused` for an entry that contradicts those before it, such as a shot on an unknown specimen
 */
export function projector(database: Database.Database): (entry: LedgerEntry) => void {
  const findSpecimen = database.prepare<[string], SpecimenState>(
    "SELECT * FROM specimens WHERE specimen = ?",
  );
  const specimenIdOfLabel = database
    .prepare<[string], string>("SELECT specimen FROM specimens WHERE label = ?")
    .pluck();
  const insertSpecimen = database.prepare(
    `INSERT INTO specimens VALUES (:specimen, :sequence, :label, :ratedAmps, :poles, :volts, :job, :demo, :at, 0, 0, 0, :details)`,
  );
  const operate = database.prepare(
    "UPDATE specimens SET operations = operations + ?, exercised = 1 WHERE specimen = ?",
  );
  const countShot = database.prepare(
    "UPDATE specimens SET shots = shots + 1, exercised = 1 WHERE specimen = ?",
  );
  const findShot = database.prepare<
    [string],
    { specimen: string; sequence: number; closed_sequence: number | null }
  >("SELECT specimen, sequence, closed_sequence FROM shots WHERE shot = ?");
  const openShotOf = database
    .prepare<[string], string>("SELECT shot FROM shots WHERE specimen = ? AND closed_sequence IS NULL")
    .pluck();
  const insertShot = database.prepare(
    `INSERT INTO shots VALUES (:shot, :sequence, NULL, :number, :specimen, :label, :ratedAmps, :poles, :volts, :job, :demo,
       :limitSet, :limitRow, :multiple, :loading, :targetAmps, :state, :operations, :at,
       NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL)`,
  );
  const closeShot = database.prepare(
    `UPDATE shots SET closed_sequence = :sequence, closed_at = :at, outcome = :outcome, seconds = :seconds,
       held_seconds = :heldSeconds, samples = :samples, result = :result, finding = :finding,
       reading = :reading, verdict = :verdict
     WHERE shot = :shot`,
  );
  const specimenReceivedBy = database.prepare<[number], SpecimenState>(
    "SELECT * FROM specimens WHERE sequence = ?",
  );
  const amendSpecimen = database.prepare(
    `UPDATE specimens SET label = :label, rated_amps = :ratedAmps, poles = :poles, volts = :volts, job = :job, demo = :demo,
       details = :details
     WHERE specimen = :specimen`,
  );
  const amendShots = database.prepare(
    "UPDATE shots SET label = :label, job = :job, demo = :demo WHERE specimen = :specimen",
  );
  const isLaterShot = database
    .prepare<[number], number>(
      `SELECT 1 FROM shots AS later JOIN shots AS earlier
         ON earlier.specimen = later.specimen AND earlier.sequence < later.sequence
       WHERE later.sequence = ? LIMIT 1`,
    )
    .pluck();
  const restateShot = database.prepare("UPDATE shots SET state = ?, operations = ? WHERE sequence = ?");
  const insertStation = database.prepare("INSERT INTO stations VALUES (?, ?, ?, ?, ?, ?)");
  const cases = caseWriter(database);
  const demoStation = database.prepare<[], number>("SELECT MAX(demo) FROM stations").pluck();

  const known = (specimen: string): SpecimenState => {
    const found = findSpecimen.get(specimen);
    if (found === undefined) throw new StoreError("refused", `specimen ${specimen} was never received`);
    return found;
  };

  const receive = ({ sequence, at, body }: LedgerEntry<"specimen-received">): void => {
    const { specimen, details } = body;
    if (findSpecimen.get(specimen) !== undefined)
      throw new StoreError("refused", `specimen ${specimen} was received already`);
    const namesake = specimenIdOfLabel.get(details.label);
    if (namesake !== undefined)
      throw new StoreError("refused", `the label ${details.label} is taken by specimen ${namesake}`);
    insertSpecimen.run({
      specimen,
      sequence,
      at,
      label: details.label,
      ratedAmps: details.ratedAmps,
      poles: details.poles,
      volts: details.volts,
      job: details.job ?? null,
      demo: details.demo === true || demoStation.get() === 1 ? 1 : 0,
      details: JSON.stringify(details),
    });
  };

  const moveHandle = ({ specimen, operations }: EntryBodies["handle-moved"]): void => {
    known(specimen);
    if (!Number.isSafeInteger(operations) || operations < 1)
      throw new StoreError(
        "refused",
        `a handle is moved a whole number of times, 1 or more; found ${operations}`,
      );
    operate.run(operations, specimen);
  };

  const open = ({ sequence, at, body }: LedgerEntry<"shot-opened">): void => {
    const specimen = known(body.specimen);
    if (findShot.get(body.shot) !== undefined)
      throw new StoreError("refused", `shot ${body.shot} was opened already`);
    const running = openShotOf.get(body.specimen);
    if (running !== undefined)
      throw new StoreError("refused", `specimen ${body.specimen} is still under shot ${running}`);
    refuseFalseState(body, specimen);
    insertShot.run({
      sequence,
      at,
      shot: body.shot,
      number: body.number,
      specimen: body.specimen,
      label: specimen.label,
      ratedAmps: specimen.rated_amps,
      poles: specimen.poles,
      volts: specimen.volts,
      job: specimen.job,
      demo: specimen.demo,
      limitSet: body.limitSet,
      limitRow: body.row.id,
      multiple: body.row.multiple,
      loading: body.loading,
      targetAmps: body.targetAmps,
      state: body.state.kind,
      operations: specimen.operations,
    });
    cases.open(specimen, sequence, body);
    countShot.run(body.specimen);
  };

  const close = ({ sequence, at, body }: LedgerEntry<"shot-closed">): void => {
    const shot = findShot.get(body.shot);
    if (shot === undefined)
      throw new StoreError("refused", `shot ${body.shot} is closed, but was never opened`);
    if (shot.closed_sequence !== null)
      throw new StoreError(
        "refused",
        `shot ${body.shot} was closed already by entry ${shot.closed_sequence}`,
      );
    closeShot.run({
      sequence,
      at,
      shot: body.shot,
      outcome: body.reading.outcome,
      seconds: body.reading.seconds,
      heldSeconds: body.reading.heldSeconds,
      samples: body.samples,
      result: body.verdict.result,
      finding: body.verdict.finding,
      reading: JSON.stringify(body.reading),
      verdict: JSON.stringify(body.verdict),
    });
    cases.close(shot.sequence, body.verdict);
    if (body.reading.outcome === "tripped") operate.run(1, shot.specimen);
  };

  const openStation = ({ sequence, at, body }: LedgerEntry<"station-opened">): void => {
    if (sequence !== 1) throw new StoreError("refused", "the station was opened already by entry 1");
    insertStation.run(body.station, sequence, body.publicKey, body.lab, body.demo ? 1 : 0, at);
  };

  const amendDetails = ({ sequence, body }: LedgerEntry<"entry-amended">): void => {
    const specimen = specimenReceivedBy.get(body.amends);
    const steps = pointerSteps(body.path);
    if (specimen === undefined || steps[0] !== "details")
      throw new StoreError(
        "refused",
        `entry ${sequence} amends ${body.path} of entry ${body.amends}, which received no specimen with it`,
      );
    const before = JSON.parse(specimen.details) as Specimen;
    const found = valueAt({ details: before }, steps);
    const claimed = Object.hasOwn(body, "before");
    if (found.there !== claimed || (found.there && canonicalJson(found.value) !== canonicalJson(body.before)))
      throw new StoreError(
        "refused",
        `entry ${sequence} says that ${body.path} of entry ${body.amends} was ${JSON.stringify(body.before) ?? "not there"}; the record says ${found.there ? JSON.stringify(found.value) : "not there"}`,
      );
    const next = Object.hasOwn(body, "after")
      ? { there: true as const, value: body.after }
      : { there: false as const };
    const { details } = withValueAt({ details: before }, steps, next) as { details: Specimen };
    const namesake = specimenIdOfLabel.get(details.label);
    if (namesake !== undefined && namesake !== specimen.specimen)
      throw new StoreError("refused", `the label ${details.label} is taken by specimen ${namesake}`);
    const amended = {
      ...{ specimen: specimen.specimen, sequence: specimen.sequence, label: details.label },
      ...{
        ratedAmps: details.ratedAmps,
        poles: details.poles,
        volts: details.volts,
        job: details.job ?? null,
      },
      demo: details.demo === true || demoStation.get() === 1 ? 1 : 0,
      details: JSON.stringify(details),
    };
    amendSpecimen.run(amended);
    amendShots.run(amended);
    cases.describe(amended);
  };

  const amendState = ({ sequence, body }: LedgerEntry<"entry-amended">): void => {
    const state = body.after as OperationState | undefined;
    if (body.path !== "/state" || (state?.kind !== "as-found" && state?.kind !== "exercised"))
      throw new StoreError(
        "refused",
        `entry ${sequence} amends ${body.path} of a shot's opening; accepted is /state, whole`,
      );
    // Counting rests on it that a specimen has one shot as found at most, its first.
    if (state.kind === "as-found" && isLaterShot.get(body.amends) !== undefined)
      throw new StoreError(
        "refused",
        `entry ${sequence} calls the shot of entry ${body.amends} as found; only the first shot of a specimen can be`,
      );
    const operations = state.kind === "exercised" ? state.operations : 0;
    restateShot.run(state.kind, operations, body.amends);
    cases.restate(body.amends, state.kind === "as-found");
  };

  const amend = (entry: LedgerEntry<"entry-amended">): void => {
    const { kind, path, about, before, after } = entry.body;
    if (kind === "specimen-received") amendDetails(entry);
    else if (kind === "shot-opened") amendState(entry);
    else if (kind === "handle-moved" && path === "/operations") {
      const difference = Number(after) - Number(before);
      if (about?.kind !== "specimen" || !Number.isSafeInteger(difference) || !(Number(after) >= 1))
        throw new StoreError("refused", `entry ${entry.sequence} amends a count of operations to ${after}`);
      operate.run(difference, known(about.id).specimen);
    }
  };

  return (entry) => {
    if (isKind(entry, "station-opened")) openStation(entry);
    else if (isKind(entry, "specimen-received")) receive(entry);
    else if (isKind(entry, "handle-moved")) moveHandle(entry.body);
    else if (isKind(entry, "shot-opened")) open(entry);
    else if (isKind(entry, "shot-closed")) close(entry);
    else if (isKind(entry, "entry-amended")) amend(entry);
    else if (!withoutProjection.has(entry.kind))
      throw new StoreError("version", `entry ${entry.sequence} is of the unknown kind ${entry.kind}`);
  };
}

/** Kinds of which nothing follows in the projections: they are read from the ledger. */
const withoutProjection: ReadonlySet<keyof EntryBodies> = new Set([
  "limit-set-confirmed",
  "band-added",
  "calibration-recorded",
  "policy-set",
  "programme-locked",
  "study-recorded",
  "job-opened",
  "custody-moved",
  "photograph-added",
  "gate-passed",
  "record-reviewed",
  "record-released",
  "time-stamped",
  "roles-given",
  "password-set",
  "signed-in",
] as const);

function isKind<K extends keyof EntryBodies>(entry: LedgerEntry, kind: K): entry is LedgerEntry<K> {
  return entry.kind === kind;
}

/** The first operation after receipt is the one that counts most: no later shot may pass for it. */
function refuseFalseState({ shot, specimen, state }: EntryBodies["shot-opened"], found: SpecimenState): void {
  const claimed = state.kind === "as-found" ? null : state.operations;
  const recorded = found.exercised === 0 ? null : found.operations;
  if (claimed === recorded) return;
  const say = (operations: number | null) =>
    operations === null ? "as found" : `exercised, ${operations} operations`;
  throw new StoreError(
    "refused",
    `shot ${shot} says that specimen ${specimen} is ${say(claimed)}; the record says ${say(recorded)}`,
  );
}
