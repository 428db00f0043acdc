import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { amendEntry } from "../../src/lab/amendments.ts";
import { addCustodyEvent, custodyChain } from "../../src/lab/custody.ts";
import { custodyRemarks } from "../../src/lab/custody-remarks.ts";
import { openJob } from "../../src/lab/jobs.ts";
import { RecordedLab } from "./recorded-lab.ts";

let place: RecordedLab;
let id = "";
beforeEach(() => {
  place = new RecordedLab();
  place.setClock(0);
  id = place.receive({ job: "J1" });
});
afterEach(() => place.remove());

type More = Record<string, unknown>;
const day = (time: string) => `2026-06-1${time}`;
const add = (event: string, from: string, to: string, observedAt: string, more: More = {}) =>
  addCustodyEvent(
    place.lab,
    { about: { kind: "specimen", id }, event, from, to, observedAt, by: "N. N.", ...more },
    "event",
  );
const chain = () => custodyChain(place.lab, { kind: "specimen", id });
const words = (kind: string) =>
  chain()
    .remarks.filter((one) => one.kind === kind)
    .map((one) => one.words);

describe("a chain of custody", () => {
  it("without a break has nothing to point out, and says who holds it", () => {
    add("receipt", "Electrician", "Lab", day("5T06:00:00Z"), {
      seals: [{ number: "S1", condition: "intact" }],
    });
    add("opening", "Lab", "Lab", day("5T07:00:00Z"), { seals: [{ number: "S1", condition: "broken" }] });
    add("transfer", "lab ", "Bench 2", day("5T07:30:00Z"));
    expect(chain()).toMatchObject({ holder: "Bench 2", remarks: [] });
    expect(chain().lines.map((line) => line.event.event)).toEqual(["receipt", "opening", "transfer"]);
  });

  it("is in the order of what was observed, and tells what was entered late", () => {
    add("transfer", "Lab", "Store", day("5T07:00:00Z"));
    add("receipt", "Electrician", "Lab", day("2T07:00:00+01:00"));
    const { lines, holder } = chain();
    expect(lines.map((line) => line.event.event)).toEqual(["receipt", "transfer"]);
    expect(lines[0]?.event.observedAt).toBe("2026-06-12T06:00:00.000Z");
    expect(lines[0]?.lateSeconds).toBe(
      Date.parse(lines[0]?.enteredAt ?? "") / 1000 - Date.UTC(2026, 5, 12, 6) / 1000,
    );
    expect(holder).toBe("Store");
    expect(words("late entry").join()).toContain("was observed at 2026-06-12T06:00:00.000Z");
  });

  it("points out a gap: nobody says how it came from one to the next", () => {
    add("receipt", "Electrician", "Lab", day("5T06:00:00Z"));
    add("testing", "Store", "Bench", day("5T07:00:00Z"));
    expect(words("gap")).toEqual([
      expect.stringMatching(
        /^From 2026-06-15T06:00:00.000Z to 2026-06-15T07:00:00.000Z nothing says how it came from Lab .* to Store/,
      ),
    ]);
    expect(words("overlap")).toEqual([]);
  });

  it("points out an overlap: handed over again by who had given it away", () => {
    add("receipt", "Electrician", "Lab", day("5T06:00:00Z"));
    add("transfer", "Electrician", "Owner", day("5T07:00:00Z"));
    expect(words("overlap")).toEqual([expect.stringContaining("although Electrician had given it away")]);
    expect(words("gap")).toEqual([]);
  });

  it("points out an overlap in time: two holders at once; the same holder is none", () => {
    add("receipt", "Electrician", "Lab", day("5T05:00:00Z"));
    add("storage", "Lab", "Store", day("5T05:30:00Z"), { observedUntil: day("5T07:00:00Z") });
    add("testing", "Store", "Bench", day("5T06:00:00Z"));
    expect(words("overlap")).toEqual([expect.stringContaining("two holders at one time")]);
  });

  it("points out a beginning without receipt, and nothing at all", () => {
    expect(words("gap")).toEqual(["Nothing is recorded of its custody."]);
    add("transfer", "A", "B", day("5T06:00:00Z"));
    expect(words("gap")).toEqual([expect.stringContaining("begins with transfer")]);
  });

  it("points out seals that changed though nobody opened it", () => {
    add("receipt", "A", "Lab", day("5T04:00:00Z"), { seals: [{ number: "S1", condition: "intact" }] });
    add("storage", "Lab", "Lab", day("5T05:00:00Z"), { seals: [{ number: "S2", condition: "intact" }] });
    add("storage", "Lab", "Lab", day("5T06:00:00Z"), { seals: [{ number: "S2", condition: "broken" }] });
    add("opening", "Lab", "Lab", day("5T07:00:00Z"));
    expect(words("seal")).toEqual([
      expect.stringContaining("Seal S2 is intact in storage"),
      expect.stringContaining("Seal S2 is broken in storage"),
      expect.stringContaining("does not say what became of seal S1"),
    ]);
  });

  it("points out what happened after return, and shots outside custody", () => {
    const early = place.shot(id, { at: -7200, multiple: 2, seconds: 30 });
    add("receipt", "A", "Lab", day("5T07:00:00Z"));
    add("return", "Lab", "A", day("5T07:30:00Z"));
    const late = place.shot(id, { at: 100, multiple: 2, seconds: 30 });
    add("storage", "A", "A", day("5T08:00:00Z"));
    expect(words("order")).toEqual([
      expect.stringContaining("after which it was no longer here"),
      expect.stringContaining(`Shot ${early} at`),
    ]);
    expect(early).not.toBe(late);
  });

  it("is whole exactly where each event begins with whom the one before ended", () => {
    const holder = fc.constantFrom("A", "B", "C", "D");
    fc.assert(
      fc.property(fc.array(fc.tuple(holder, holder), { minLength: 1, maxLength: 8 }), (handed) => {
        const lines = handed.map(([from, to], at) => {
          const observedAt = new Date(Date.UTC(2026, 5, 1, at)).toISOString();
          return {
            ...{ sequence: at + 2, enteredAt: observedAt, by: "N. N.", lateSeconds: 0, amendments: 0 },
            event: {
              ...{ about: { kind: "specimen" as const, id: "x" }, from, to, observedAt, observedUntil: null },
              ...{ event: at === 0 ? ("receipt" as const) : ("transfer" as const) },
              ...{ seals: [], condition: "", note: "" },
            },
          };
        });
        const breaks = handed.filter(([from], at) => at > 0 && from !== handed[at - 1]?.[1]).length;
        const remarks = custodyRemarks(lines, []);
        expect(remarks).toHaveLength(breaks);
        expect(remarks.every(({ kind }) => kind === "gap" || kind === "overlap")).toBe(true);
      }),
    );
  });

  it("takes in what was recorded of the whole job, and shows the newest of what was amended", () => {
    openJob(place.lab, { job: "J1", site: "invented", on: "2026-06-01", by: "N. N." }, "job");
    const { sequence } = add("receipt", "Electrcian", "Lab", day("5T06:00:00Z"), {
      about: { kind: "job", id: "J1" },
    });
    add("transfer", "Lab", "Store", day("5T07:00:00Z"));
    expect(chain().lines).toHaveLength(2);
    expect(custodyChain(place.lab, { kind: "job", id: "J1" }).lines).toHaveLength(1);
    amendEntry(
      place.lab,
      {
        entry: sequence,
        path: "/from",
        before: "Electrcian",
        after: "Electrician",
        why: "typed wrong",
        by: "A. B.",
      },
      "amendment",
    );
    expect(chain().lines[0]).toMatchObject({ amendments: 1, event: { from: "Electrician" } });
  });

  it.each<[string, More, string]>([
    ["an unknown specimen", { about: { kind: "specimen", id: "none" } }, 'no specimen "none"'],
    ["an unknown job", { about: { kind: "job", id: "none" } }, 'no job "none"'],
    ["an unknown event", { event: "lost" }, "event must be one of receipt"],
    ["no time zone", { observedAt: "2026-06-15T06:00:00" }, "observedAt must match pattern"],
    ["a time that does not exist", { observedAt: "2026-06-15T25:00:00Z" }, "there is no moment"],
    ["a time after it is entered", { observedAt: "2026-06-15T09:00:00Z" }, "when it was entered"],
    ["an end before the beginning", { observedUntil: "2026-06-15T05:00:00Z" }, "lies before the beginning"],
    [
      "a seal twice",
      {
        seals: [
          { number: "S", condition: "intact" },
          { number: "S", condition: "broken" },
        ],
      },
      'seal "S" is named twice',
    ],
    ["a seal with a path", { seals: [{ number: "a/b", condition: "intact" }] }, "number must match pattern"],
    ["nobody to", { to: "" }, "to must"],
  ])("%s is refused and nothing is stored", (_, more, message) => {
    const { sequence } = place.lab.store.ledger.head();
    expect(() => add("receipt", "A", "B", day("5T06:00:00Z"), more)).toThrow(message);
    expect(place.lab.store.ledger.head().sequence).toBe(sequence);
  });
});
