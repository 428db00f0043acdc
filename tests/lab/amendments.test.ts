import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { amendEntry, amendmentView, amendmentViews } from "../../src/lab/amendments.ts";
import { addCalibration, calibrationViews } from "../../src/lab/calibrations.ts";
import { openJob } from "../../src/lab/jobs.ts";
import { moveHandle } from "../../src/lab/move-handle.ts";
import { rederive } from "../../src/lab/rederive.ts";
import { shotLines } from "../../src/lab/shot-view.ts";
import { knownSpecimen } from "../../src/lab/specimen-view.ts";
import { verifyStore } from "../../src/store/verify-store.ts";
import { rig } from "./measuring-lab.ts";
import { RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
let id = "";
beforeEach(() => {
  place = new RecordedLab();
  id = place.receive({ condition: "claen", job: "J1", panel: "P1" });
});
afterEach(() => place.remove());

const lab = () => place.lab;
const amend = (change: object) =>
  amendEntry(lab(), { why: "typed wrong", by: "A. B.", ...change }, "amendment");
const receipt = () => knownSpecimen(lab(), id).sequence;
const sound = () => expect(verifyStore(lab().store.dataDir).problems).toEqual([]);
const sequence = () => lab().store.ledger.head().sequence;

describe("an amendment", () => {
  it("of a specimen shows in its details, and the history keeps every value, who and why", () => {
    const entry = receipt();
    amend({ entry, path: "/details/condition", before: "claen", after: "clean" });
    amend({
      entry,
      path: "/details/condition",
      before: "clean",
      after: "charred",
      by: "C. D.",
      why: "seen again",
    });
    amend({ entry, path: "/details/dateCode", after: "9714" });
    amend({ entry, path: "/details/panel", before: "P1" });
    const { details } = knownSpecimen(lab(), id);
    expect(details).toMatchObject({ condition: "charred", dateCode: "9714" });
    expect(Object.keys(details)).not.toContain("panel");
    const view = amendmentView(lab(), entry);
    expect(view.first).toMatchObject({ details: { condition: "claen", panel: "P1" } });
    expect(view.now).toEqual({ specimen: id, details });
    expect(view.history.map(({ by, amendment: { before, after, why } }) => [before, after, by, why])).toEqual(
      [
        ["claen", "clean", "A. B.", "typed wrong"],
        ["clean", "charred", "C. D.", "seen again"],
        [undefined, "9714", "A. B.", "typed wrong"],
        ["P1", undefined, "A. B.", "typed wrong"],
      ],
    );
    expect(amendmentViews(lab(), id)).toEqual([view]);
    expect(amendmentViews(lab(), "other")).toEqual([]);
    sound();
    lab().store.rebuildProjections();
    expect(knownSpecimen(place.reopened(), id).details).toEqual(details);
  });

  it("of label, job and rating shows in lists and counts; the shot keeps the rating it was made at", () => {
    place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    const entry = receipt();
    amend({ entry, path: "/details/label", before: "A-1", after: "A-9" });
    amend({ entry, path: "/details/job", before: "J1", after: "J2" });
    amend({ entry, path: "/details/ratedAmps", before: 20, after: 25 });
    expect(shotLines(lab())).toMatchObject([{ label: "A-9", job: "J2", ratedAmps: 20 }]);
    expect(lab().store.records.specimenByLabel("A-1")).toBeNull();
    expect(lab().store.records.specimenByLabel("A-9")?.details.ratedAmps).toBe(25);
    sound();
  });

  it("of a count of operations and of the state before a shot shows at once, and later shots go on from it", () => {
    moveHandle(lab(), id, 3, "");
    const moved = sequence();
    const shot = place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    amend({ entry: moved, path: "/operations", before: 3, after: 5 });
    expect(knownSpecimen(lab(), id).operations).toBe(6);
    const opened = lab().store.records.shot(shot)?.opened.sequence;
    const before = { kind: "exercised", operations: 3 };
    amend({ entry: opened, path: "/state", before, after: { kind: "exercised", operations: 5 } });
    expect(shotLines(lab())[0]?.state).toEqual({ kind: "exercised", operations: 5 });
    place.shot(id, { at: 9000, multiple: 2, seconds: 30 });
    expect(shotLines(lab())[0]?.state).toEqual({ kind: "exercised", operations: 6 });
    sound();
  });

  it("of a state as found takes the shot from the as-found ones", () => {
    const shot = place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    const opened = lab().store.records.shot(shot)?.opened.sequence;
    const after = { kind: "exercised", operations: 1 };
    amend({
      entry: opened,
      path: "/state",
      before: { kind: "as-found" },
      after,
      why: "handle worked on site",
    });
    const asFound = () =>
      lab()
        .store.failureCounts.timed("as-found")
        .map((one) => one.shot);
    expect(shotLines(lab())[0]?.state).toEqual(after);
    expect(asFound()).toEqual([]);
    amend({ entry: opened, path: "/state", before: after, after: { kind: "as-found" } });
    expect(asFound()).toEqual([shot]);
    const later = place.shot(id, { at: 9000, multiple: 2, seconds: 30 });
    const entry = lab().store.records.shot(later)?.opened.sequence;
    const change = {
      path: "/state",
      before: { kind: "exercised", operations: 1 },
      after: { kind: "as-found" },
    };
    expect(() => amend({ entry, ...change })).toThrow(`shot ${shot} came before it`);
    const body = { ...change, amends: entry ?? 0, kind: "shot-opened" as const, about: null, why: "" };
    expect(() => lab().store.ledger.append("entry-amended", body, { actor: "x" })).toThrow(
      "only the first shot of a specimen can be",
    );
    expect(asFound()).toEqual([shot]);
    sound();
  });

  it("of what a specimen is moves its shots to the right kind and place where they are counted", () => {
    place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    const other = place.receive({ label: "A-2", condition: "clean", job: "J2", panel: "P1" });
    place.shot(other, { at: 0, multiple: 2, seconds: 30 });
    const counted = () =>
      lab()
        .store.failureCounts.timed("as-found")
        .map(({ kind, cluster }) => [kind, cluster]);
    expect(counted()[0]).not.toEqual(counted()[1]);
    amend({ entry: receipt(), path: "/details/condition", before: "claen", after: "clean" });
    amend({ entry: receipt(), path: "/details/job", before: "J1", after: "J2" });
    expect(counted()[0]).toEqual(counted()[1]);
    sound();
  });

  it("of a certificate and of a job is what is used and shown from then on", () => {
    const certificate = {
      ...{ instrument: "invented", serial: rig.serial, quantity: "current", certificate: "C-1" },
      ...{ issuer: "invented", on: "2026-01-01", due: "2027-01-01", expandedPercent: 0.5, k: 2 },
    };
    addCalibration(lab(), certificate, "certificate");
    const entry = sequence();
    amend({ entry, path: "/due", before: "2027-01-01", after: "2026-02-01" });
    expect(calibrationViews(lab())).toMatchObject([{ state: "past due", record: { due: "2026-02-01" } }]);
    expect(() => amend({ entry, path: "/due", before: "2026-02-01", after: "2025-01-01" })).toThrow(
      "lies before",
    );
    openJob(lab(), { job: "J1", site: "invented", on: "2026-06-01", by: "N. N.", panels: ["P1"] }, "job");
    const view = amend({ entry: sequence(), path: "/panels/1", after: "P2" });
    expect(view.now).toMatchObject({ panels: ["P1", "P2"] });
  });

  it("leaves the stored readings and verdicts as they were derived", () => {
    place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    const before = rederive(lab());
    amend({ entry: receipt(), path: "/details/ratedAmps", before: 20, after: 25 });
    expect(rederive(lab())).toEqual(before);
  });
});

describe("refused, and nothing is stored", () => {
  const of = (kind: string) =>
    [...lab().store.ledger.entries()].find((one) => one.kind === kind)?.sequence ?? 0;
  it.each<[string, () => object, string]>([
    [
      "an old value that does not match",
      () => ({ path: "/details/condition", before: "x", after: "y" }),
      'before: found "x"; /details/condition of entry 2 is "claen"',
    ],
    [
      "an old value left out",
      () => ({ path: "/details/condition", after: "y" }),
      'before: is missing; /details/condition of entry 2 is "claen"',
    ],
    [
      "an old value for what is not there",
      () => ({ path: "/details/notes", before: "x", after: "y" }),
      "has nothing at /details/notes",
    ],
    [
      "a field that a specimen has not",
      () => ({ path: "/details/colour", after: "red" }),
      "colour is not known here",
    ],
    [
      "a place below nothing",
      () => ({ path: "/detail/condition", before: "x", after: "y" }),
      "its body has details, specimen",
    ],
    [
      "a place below a text",
      () => ({ path: "/details/label/0", before: "x", after: "y" }),
      '/details/label is "A-1"',
    ],
    [
      "no pointer",
      () => ({ path: "details.condition", before: "claen", after: "y" }),
      "path must match pattern",
    ],
    [
      "nothing new",
      () => ({ path: "/details/condition", before: "claen", after: "claen" }),
      "what stands there already",
    ],
    [
      "a value that the field does not accept",
      () => ({ path: "/details/poles", before: 1, after: 7 }),
      "details.poles",
    ],
    [
      "a needed field taken away",
      () => ({ path: "/details/volts", before: 120 }),
      "details.volts is missing",
    ],
    [
      "an identifier",
      () => ({ path: "/specimen", before: id, after: "x" }),
      "other entries name the specimen by it",
    ],
    [
      "no reason",
      () => ({ path: "/details/condition", before: "claen", after: "y", why: " " }),
      "why must match",
    ],
    ["nobody", () => ({ path: "/details/condition", before: "claen", after: "y", by: "" }), "by must"],
    ["an unknown entry", () => ({ entry: 999, path: "/x", before: 1, after: 2 }), "there is no entry 999"],
    [
      "the reading of a shot",
      () => ({ entry: of("shot-closed"), path: "/reading/seconds", before: 30, after: 20 }),
      "it is measured data",
    ],
    [
      "the samples of a shot",
      () => ({ entry: of("shot-closed"), path: "/samplesHash", before: "", after: "x" }),
      "cannot be amended",
    ],
    [
      "the limit of a shot",
      () => ({ entry: of("shot-opened"), path: "/row/id", before: "", after: "x" }),
      "the verdict stands on it",
    ],
    [
      "a state that is none",
      () => ({
        entry: of("shot-opened"),
        path: "/state",
        before: { kind: "as-found" },
        after: { kind: "new" },
      }),
      'accepted: {"kind":"as-found"}',
    ],
    [
      "the station",
      () => ({ entry: 1, path: "/lab", before: "Invented lab", after: "x" }),
      "every signature stands",
    ],
  ])("%s", (_, change, words) => {
    place.shot(id, { at: 0, multiple: 2, seconds: 30 });
    const before = sequence();
    expect(() => amend({ entry: receipt(), ...change() })).toThrow(words);
    expect(sequence()).toBe(before);
  });

  it("a label that another specimen has, an amendment of an amendment", () => {
    place.receive({ label: "A-2" });
    expect(() => amend({ entry: receipt(), path: "/details/label", before: "A-1", after: "A-2" })).toThrow(
      "already names specimen",
    );
    amend({ entry: receipt(), path: "/details/condition", before: "claen", after: "clean" });
    expect(() => amend({ entry: sequence(), path: "/why", before: "typed wrong", after: "x" })).toThrow(
      "amending the same field of the first entry again",
    );
  });

  it("an amendment that contradicts the record, also where it is appended by other means", () => {
    const body = { amends: receipt(), kind: "specimen-received" as const, about: null, why: "" };
    const append = (more: object) =>
      lab().store.ledger.append(
        "entry-amended",
        { ...body, path: "/details/condition", ...more },
        { actor: "x" },
      );
    expect(() => append({ before: "other", after: "x" })).toThrow('the record says "claen"');
    expect(() => append({ path: "/specimen", before: id, after: "x" })).toThrow(
      "received no specimen with it",
    );
    expect(lab().store.compareProjections()).toEqual({ same: true });
  });
});
