import { describe, expect, it } from "vitest";
import { crc16 } from "../../firmware-protocol/codec/crc16.ts";
import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { lineFaults } from "../../firmware-protocol/codec/line-faults.ts";
import { LineSplitter } from "../../firmware-protocol/codec/line-splitter.ts";
import {
  type FieldDescription,
  longestLineBytes,
  type Message,
  type MessageDescription,
  messages,
} from "../../firmware-protocol/messages.ts";
import { readTranscript, transcriptNames } from "./read-transcript.ts";

const transcripts = transcriptNames.map((name) => ({ name, ...readTranscript(name) }));
const allLines = transcripts.flatMap((one) => one.lines);
const sound = allLines.filter((line) => line.meaning !== null);
const text = (bytes: Uint8Array) => String.fromCharCode(...bytes);

describe("golden transcripts", () => {
  it.each(transcripts.filter((one) => one.lines.length > 0))(
    "$name: every line decodes as it says",
    ({ lines }) => {
      for (const { where, bytes, meaning, refusal } of lines) {
        const decoded = decodeLine(bytes);
        if (meaning !== null) {
          const { sequence, ...message } = meaning;
          expect(decoded, where).toEqual({ ok: true, sequence, message });
        } else expect(decoded, where).toMatchObject({ ok: false, ...refusal });
      }
    },
  );

  it.each(transcripts.filter((one) => one.lines.length > 0))(
    "$name: what decodes encodes to the same bytes",
    ({ lines }) => {
      for (const { where, bytes, meaning } of lines) {
        if (meaning === null) continue;
        const { sequence, ...message } = meaning;
        expect(text(encodeLine(sequence, message as unknown as Message)), where).toBe(`${text(bytes)}\n`);
      }
    },
  );

  it("as one stream of bytes fall into the same lines again, but for those that are too long", () => {
    const stream = allLines.flatMap(({ bytes }) => [...bytes, 0x0a]);
    const splitter = new LineSplitter();
    const split = splitter.push(Uint8Array.from(stream)).map(text);
    const short = allLines.filter(({ bytes }) => bytes.length < longestLineBytes);
    expect(split).toEqual(short.map(({ bytes }) => text(bytes)));
    expect(splitter.overruns).toBe(allLines.length - short.length);
    expect(splitter.overruns).toBeGreaterThan(0);
  });

  it("hold CRCs that are right", () => {
    const vectors = transcripts.flatMap((one) => one.vectors);
    expect(vectors.length).toBeGreaterThan(10);
    for (const { where, bytes, crc } of vectors) expect(crc16(bytes), where).toBe(crc);
  });

  it("hold every code with which a line can be refused", () => {
    const codes = new Set(allLines.flatMap((line) => (line.refusal === null ? [] : [line.refusal.code])));
    expect([...codes].sort()).toEqual([...lineFaults].sort());
  });

  it("hold every code with which a rig can refuse, from a rig", () => {
    const refused = sound.flatMap(({ where, meaning }) =>
      where.startsWith("refusals") && meaning?.verb === "REFUSED" ? [meaning.code] : [],
    );
    expect([...new Set(refused)].sort()).toEqual([...messages.REFUSED.fields.code.of].sort());
  });
});

/** What each field must be seen to hold. */
function extremes(field: FieldDescription): readonly unknown[] {
  if (field.type === "integer") return [field.min, field.max];
  if (field.type === "choice") return field.of;
  if (field.type === "hex") return ["0".repeat(field.digits), "F".repeat(field.digits)];
  return [""];
}

describe("golden transcripts cover", () => {
  it.each(Object.entries(messages as Record<string, MessageDescription>))(
    "%s: the ends of every range, every word, and optional fields there and not",
    (verb, { fields, values }) => {
      const meanings = sound.flatMap(({ where, meaning }) =>
        where.startsWith("valid-messages") && meaning?.verb === verb ? [meaning] : [],
      );
      expect(meanings.length).toBeGreaterThan(0);
      for (const [name, field] of Object.entries(fields)) {
        const seen = meanings.map((meaning) => meaning[name]);
        for (const extreme of extremes(field)) expect(seen, `${verb} ${name}`).toContain(extreme);
        if (field.optional === true) expect(seen, `${verb} without ${name}`).toContain(undefined);
      }
      if (values !== undefined) {
        const listed = meanings.flatMap((meaning) => meaning.values as number[]);
        expect(listed).toContain(values.min);
        expect(listed).toContain(values.max);
      }
    },
  );
});
