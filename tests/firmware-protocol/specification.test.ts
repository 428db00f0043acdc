import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { crc16 } from "../../firmware-protocol/codec/crc16.ts";
import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { lineFaults } from "../../firmware-protocol/codec/line-faults.ts";
import { longestLineBytes, messages, protocolVersion } from "../../firmware-protocol/messages.ts";
import { bytesShown, readTranscript, transcriptNames } from "./read-transcript.ts";

const document = readFileSync(join(import.meta.dirname, "../../firmware-protocol/SPECIFICATION.md"), "utf8");
const section = (number: number) =>
  document.split(/^## (?=\d+\. )/m).find((text) => text.startsWith(`${number}. `)) ?? "";
const examples = [...document.matchAll(/```wire\n([\s\S]*?)```/g)].flatMap((match) =>
  (match[1] ?? "").trim().split("\n"),
);

describe("SPECIFICATION.md", () => {
  it("gives examples that all decode, from the end that says them", () => {
    expect(examples.length).toBeGreaterThan(40);
    for (const example of examples) {
      const decoded = decodeLine(bytesShown(example.slice(2)));
      expect(decoded, example).toMatchObject({ ok: true });
      if (decoded.ok)
        expect(messages[decoded.message.verb].from).toBe(example.startsWith("> ") ? "host" : "rig");
    }
  });

  it("gives examples that stand in the golden transcripts, byte for byte", () => {
    const known = new Set(
      transcriptNames
        .flatMap((name) => readTranscript(name).lines)
        .map(({ bytes }) => String.fromCharCode(...bytes)),
    );
    for (const example of examples) expect(known.has(example.slice(2)), example).toBe(true);
  });

  it("uses every verb in its examples but those that are shown in transcripts only", () => {
    const shown = new Set(examples.map((example) => example.split(" ")[2]?.replace(/\*.*/, "")));
    const absent = Object.keys(messages).filter((verb) => !shown.has(verb));
    expect(absent.sort()).toEqual(["CLEAR", "REFUSED", "STOP"]);
  });

  it("gives CRCs that are right", () => {
    const rows = [...section(3).matchAll(/^\| (none|`[^`]+`) +\| ([0-9A-F]{4}) \|$/gm)];
    expect(rows.length).toBe(4);
    for (const [, shown = "", crc = ""] of rows) {
      const bytes = shown === "none" ? new Uint8Array(0) : bytesShown(shown.slice(1, -1));
      expect(crc16(bytes), shown).toBe(Number.parseInt(crc, 16));
    }
  });

  it("lists the codes of refusal in the order in which they are tried", () => {
    const listed = [...section(4).matchAll(/^\| `([a-z-]+)` +\|/gm)].map((match) => match[1]);
    expect(listed).toEqual([...lineFaults]);
  });

  it("lists every golden transcript", () => {
    const listed = [...section(15).matchAll(/^\| `([a-z-]+\.txt)` +\|/gm)].map((match) => match[1]);
    expect(listed.sort()).toEqual([...transcriptNames].sort());
  });

  it("names the version and the longest line", () => {
    expect(document).toContain(`\nVersion ${protocolVersion}. `);
    expect(section(3)).toContain(`at most ${longestLineBytes} bytes, LF included`);
  });

  it("numbers its sections without a gap, and refers to none that is not there", () => {
    const numbers = [...document.matchAll(/^## (\d+)\. /gm)].map((match) => Number(match[1]));
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    for (const [, number] of document.matchAll(/sections? (\d+)/g)) expect(numbers).toContain(Number(number));
  });
});
