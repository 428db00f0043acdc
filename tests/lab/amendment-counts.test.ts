import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { amendEntry } from "../../src/lab/amendments.ts";
import { addCustodyEvent } from "../../src/lab/custody.ts";
import { jobView } from "../../src/lab/jobs.ts";
import { moveHandle } from "../../src/lab/move-handle.ts";
import { shotLines, shotView } from "../../src/lab/shot-view.ts";
import { knownSpecimen, specimenView, specimenViews } from "../../src/lab/specimen-view.ts";
import { RecordedLab, timeAt } from "./recorded-lab.ts";

let place: RecordedLab;
let id = "";
beforeEach(() => {
  place = new RecordedLab();
  id = place.receive({ condition: "claen", job: "J1" });
  place.receive({ label: "A-2", job: "J1" });
});
afterEach(() => place.remove());

const lab = () => place.lab;
const amend = (entry: number, change: object) =>
  amendEntry(lab(), { entry, why: "typed wrong", by: "A. B.", ...change }, "amendment");
const receipt = () => knownSpecimen(lab(), id).sequence;

it("of a specimen are those of its receipt and of the movements of its handle, each time counted", () => {
  expect(specimenView(lab(), id).amendments).toBe(0);
  amend(receipt(), { path: "/details/condition", before: "claen", after: "clean" });
  amend(receipt(), { path: "/details/condition", before: "clean", after: "charred" });
  moveHandle(lab(), id, 3, "");
  amend(lab().store.ledger.head().sequence, { path: "/operations", before: 3, after: 5 });
  expect(specimenView(lab(), id).amendments).toBe(3);
  expect(specimenViews(lab()).map((one) => one.amendments)).toEqual([3, 0]);
  expect(jobView(lab(), "J1").specimens.map((one) => one.amendments)).toEqual([3, 0]);
});

it("of a specimen are not those of its custody, which has a view of its own", () => {
  place.setClock(7200);
  const event = { event: "receipt", from: "the owner", to: "A. B.", observedAt: timeAt(60), by: "A. B." };
  const { sequence } = addCustodyEvent(lab(), { about: { kind: "specimen", id }, ...event }, "custody");
  amend(sequence, { path: "/from", before: "the owner", after: "the owner's agent" });
  expect(specimenView(lab(), id).amendments).toBe(0);
});

it("of a shot are those of the entry that opened it; those of its specimen stand beside them", () => {
  const shot = place.shot(id, { at: 0, multiple: 2, seconds: 30 });
  const other = place.shot(id, { at: 9000, multiple: 2, seconds: 30 });
  amend(receipt(), { path: "/details/condition", before: "claen", after: "clean" });
  amend(shotView(lab(), shot).opened.sequence, {
    path: "/state",
    before: { kind: "as-found" },
    after: { kind: "exercised", operations: 1 },
  });
  expect(shotView(lab(), shot)).toMatchObject({
    amendments: 1,
    line: { amendments: 1 },
    specimen: { amendments: 1 },
  });
  expect(shotLines(lab()).map((one) => [one.id, one.amendments])).toEqual([
    [other, 0],
    [shot, 1],
  ]);
});

it("are read once for a list, however long it is", () => {
  const read = vi.spyOn(lab().store.ledger, "entries");
  const reads = (what: () => unknown) => {
    read.mockClear();
    what();
    return read.mock.calls.filter(([asked]) => asked?.kind === "entry-amended").length;
  };
  expect(reads(() => specimenViews(lab()))).toBe(1);
  for (let more = 3; more < 20; more++) place.receive({ label: `A-${more}` });
  place.shot(id, { at: 0, multiple: 2, seconds: 30 });
  place.shot(id, { at: 9000, multiple: 2, seconds: 30 });
  expect(reads(() => specimenViews(lab()))).toBe(1);
  expect(reads(() => shotLines(lab()))).toBe(1);
});
