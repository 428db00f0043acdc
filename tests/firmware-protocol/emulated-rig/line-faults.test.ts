import { describe, expect, it } from "vitest";
import { FaultyLine } from "../../../firmware-protocol/emulated-rig/faulty-line.ts";
import {
  type LineFaults,
  parseLineFaults,
  soundLine,
} from "../../../firmware-protocol/emulated-rig/line-faults.ts";
import { SeededRandom } from "../../../firmware-protocol/emulated-rig/seeded-random.ts";

const lines = Array.from({ length: 4000 }, (_, index) => `${String(index).padStart(4, "0")} STOP*0000\n`);

/** What arrives of `lines`, line by line as they are sent. */
function carried(faults: Partial<LineFaults>): string[][] {
  const line = new FaultyLine({ ...soundLine, ...faults }, SeededRandom.stream(1, "line"));
  return lines.map((text) =>
    line.carry(Buffer.from(text)).map((bytes) => Buffer.from(bytes).toString("latin1")),
  );
}

describe("FaultyLine", () => {
  it("hands on every line unchanged when it is sound", () => {
    expect(carried({}).flat()).toEqual(lines);
  });

  it("drops about the asked share, and changes nothing else", () => {
    const arrived = carried({ drop: 0.1 }).flat();
    expect(arrived.length / lines.length).toBeCloseTo(0.9, 1);
    expect(arrived.every((line) => lines.includes(line))).toBe(true);
  });

  it("damages about the asked share by one to three bits", () => {
    const arrived = carried({ damage: 0.1 }).flat();
    expect(arrived).toHaveLength(lines.length);
    const flips = arrived.map((line, index) => {
      const sent = Buffer.from(lines[index] as string);
      return [...Buffer.from(line, "latin1")].reduce(
        (sum, byte, at) => sum + (byte ^ (sent[at] as number)).toString(2).replaceAll("0", "").length,
        0,
      );
    });
    expect(flips.filter((count) => count > 0).length / lines.length).toBeCloseTo(0.1, 1);
    expect(Math.max(...flips)).toBe(3);
  });

  it("repeats about the asked share at once", () => {
    const arrived = carried({ repeat: 0.1 });
    expect(arrived.filter((one) => one.length === 2).length / lines.length).toBeCloseTo(0.1, 1);
    for (const [index, one] of arrived.entries()) expect(new Set(one)).toEqual(new Set([lines[index]]));
  });

  it("lets the next line overtake, and loses none but a last one", () => {
    const arrived = carried({ reorder: 0.1 }).flat();
    expect(arrived.length).toBeGreaterThanOrEqual(lines.length - 1);
    expect(new Set(arrived).size).toBe(arrived.length);
    const swaps = arrived.filter((line, index) => index > 0 && line < (arrived[index - 1] as string)).length;
    expect(swaps / lines.length).toBeGreaterThan(0.05);
    for (const [index, line] of arrived.entries())
      expect(Math.abs(lines.indexOf(line) - index)).toBeLessThan(2);
  });

  it("truncates about the asked share: what arrives is a beginning without LF", () => {
    const arrived = carried({ truncate: 0.1 }).flat();
    const cut = arrived.filter((line, index) => line !== lines[index]);
    expect(cut.length / lines.length).toBeCloseTo(0.1, 1);
    for (const [index, line] of arrived.entries())
      expect((lines[index] as string).startsWith(line)).toBe(true);
    expect(cut.every((line) => !line.includes("\n"))).toBe(true);
  });

  it("repeats itself from the same seed", () => {
    const faults = { drop: 0.1, damage: 0.1, repeat: 0.1, reorder: 0.1, truncate: 0.1 };
    expect(carried(faults)).toEqual(carried(faults));
  });
});

describe("parseLineFaults", () => {
  it("reads every part", () => {
    const text =
      "drop=0.02, damage=0.01,repeat=.5,reorder=0,truncate=1,silence-at=5,silence-for=2.5,pull-at=3,reset-at=4,ways=to-rig";
    expect(parseLineFaults(text)).toEqual({
      drop: 0.02,
      damage: 0.01,
      repeat: 0.5,
      reorder: 0,
      truncate: 1,
      silenceAt: 5,
      silenceFor: 2.5,
      pullAt: 3,
      resetAt: 4,
      ways: "to-rig",
    });
  });

  it("takes an empty text for a sound line", () => {
    expect(parseLineFaults("")).toEqual(soundLine);
  });

  it.each([
    ["drops=0.1", 'unknown name "drops"; accepted: drop, damage,'],
    ["drop", 'found "drop"; accepted: name=value'],
    ["drop=", 'found "drop="'],
    ["drop=1=2", 'found "drop=1=2"'],
    ["drop=1.01", 'drop is "1.01"; accepted: a number from 0 to 1'],
    ["drop=-1", 'drop is "-1"'],
    ["drop=1e-2", 'drop is "1e-2"'],
    ["drop=0.1,drop=0.2", "drop is given twice"],
    ["pull-at=soon", 'pull-at is "soon"; accepted: a number of seconds from 0 up'],
    ["ways=out", 'ways is "out"; accepted: both, from-rig, to-rig'],
    ["toString=1", 'unknown name "toString"'],
  ])("refuses %s", (text, words) => {
    expect(() => parseLineFaults(text)).toThrow(words);
  });
});
