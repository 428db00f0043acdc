import type { CustodyLine } from "../../src/contract/custody-schema.ts";
import type { CustodyTimelineData } from "../../src/contract/exhibit-figures.ts";
import type { CustodyEvent } from "../../src/contract/ledger-entries.ts";
import { custodyRemarks } from "../../src/lab/custody-remarks.ts";

type Told = Partial<Omit<CustodyEvent, "seals">> & { seals?: CustodyEvent["seals"]; entered?: string };

/** A line of an invented chain, entered when it was observed unless told otherwise. */
export function custodyLine(
  sequence: number,
  [event, from, to, observedAt]: readonly [CustodyEvent["event"], string, string, string],
  { entered = observedAt, ...more }: Told = {},
): CustodyLine {
  return {
    sequence,
    enteredAt: entered,
    by: "clerk",
    lateSeconds: (Date.parse(entered) - Date.parse(observedAt)) / 1000,
    amendments: 0,
    event: {
      about: { kind: "specimen", id: "7K2M-S0001" },
      ...{ event, from, to, observedAt, observedUntil: null, seals: [], condition: "", note: "" },
      ...more,
    },
  };
}

/** The data of a figure, with the remarks that a lab would make of it. */
export function custodyData(
  lines: readonly CustodyLine[],
  shots: CustodyTimelineData["shots"] = [],
  title = "Chain of custody: KS-1",
): CustodyTimelineData {
  const seen = shots.map(({ shot, at }) => ({ shot, openedAt: at }));
  return { title, lines, remarks: custodyRemarks(lines, seen), shots, notes: ["Invented data for a test."] };
}

const seal = (number: string, condition: CustodyEvent["seals"][number]["condition"]) => ({
  number,
  condition,
});

/** Minutes on the day of removal, months in a store, two years until the tests: with a gap, an overlap and a late entry. */
export const custodyExample = custodyData(
  [
    custodyLine(3, ["receipt", "I. Invented, electrician", "reception", "2024-06-14T08:02:00.000Z"], {
      about: { kind: "job", id: "9 Invented Street" },
      seals: [seal("SEAL-77", "intact"), seal("SEAL-78", "intact")],
    }),
    custodyLine(4, ["storage", "reception", "locker 3, evidence room", "2024-06-14T08:20:00.000Z"], {
      observedUntil: "2024-11-02T09:00:00.000Z",
    }),
    custodyLine(7, ["transfer", "locker 4", "court clerk", "2024-12-02T10:00:00.000Z"], {
      entered: "2024-12-05T16:00:00.000Z",
    }),
    custodyLine(8, ["storage", "court clerk", "court store", "2024-12-02T11:30:00.000Z"], {
      observedUntil: "2026-06-15T09:00:00.000Z",
    }),
    custodyLine(9, ["opening", "court clerk", "bench", "2026-06-15T08:00:00.000Z"], {
      seals: [seal("SEAL-77", "broken"), seal("SEAL-79", "applied")],
      entered: "2026-06-15T08:21:00.000Z",
    }),
    custodyLine(30, ["return", "bench", "I. Invented, electrician", "2026-06-16T14:00:00.000Z"]),
  ],
  [
    { shot: "7K2M-T0001", at: "2026-06-15T09:20:00.000Z", current: true },
    { shot: "7K2M-T0002", at: "2026-06-15T10:05:00.000Z", current: true },
    { shot: "7K2M-T0003", at: "2026-06-15T11:40:00.000Z", current: true },
  ],
);

const longName =
  "The Invented Institute for the Keeping of Things Removed, Department of Lockers and Cupboards, room number";
const crowdedStart = Date.parse("2023-01-09T07:00:00.000Z");
const kinds = ["transfer", "storage", "opening", "testing"] as const;

/** Forty events of nine holders with long names, some at one time, some years apart, with every kind of remark. */
export const crowdedCustody = custodyData(
  Array.from({ length: 40 }, (_, i) => {
    const at = (n: number) =>
      new Date(
        crowdedStart + Math.floor(n / 3) * 600_000 + (n > 20 ? 86_400_000 * 700 : 0) + n ** 3 * 4000,
      ).toISOString();
    const holder = (n: number) =>
      n % 9 === 4 ? longName + n : `${longName.slice(0, 20 + (n % 9) * 9)} ${n % 9}`;
    const event = i === 0 ? "receipt" : (kinds[i % 4] ?? "transfer");
    return custodyLine(100 + i, [event, holder(i % 7 === 3 ? i + 4 : i), holder(i + 1), at(i)], {
      observedUntil: event === "storage" ? at(i + (i % 3)) : null,
      seals:
        i % 3 === 0 ? [seal(`S-${i}`, i % 2 === 0 ? "intact" : "broken"), seal(`S-${i + 1}`, "applied")] : [],
      entered: i % 5 === 0 ? new Date(Date.parse(at(i)) + 3 * 86_400_000).toISOString() : at(i),
    });
  }),
  [{ shot: "7K2M-T0001", at: "2023-01-10T12:00:00.000Z", current: true }],
  "Chain of custody: KS-2, with more events than one page has room for",
);

/** A published copy: years for moments, codes for persons, no words. */
export const publishedCustody: CustodyTimelineData = {
  ...custodyExample,
  lines: custodyExample.lines.map((line) => ({
    ...line,
    enteredAt: line.enteredAt.slice(0, 4),
    event: {
      ...line.event,
      from: `person-${line.event.from.length}`,
      to: `person-${line.event.to.length}`,
      observedAt: line.event.observedAt.slice(0, 4),
      observedUntil: line.event.observedUntil?.slice(0, 4) ?? null,
    },
  })),
  remarks: custodyExample.remarks.map((one) => ({ ...one, words: `${one.kind}: its words are withheld.` })),
  shots: custodyExample.shots.map((one) => ({ ...one, at: one.at.slice(0, 4) })),
};
