import { describe, expect, it } from "vitest";
import { programmeFor } from "../../../src/core/limits/applicable-rows.ts";
import type { Band } from "../../../src/core/limits/band.ts";
import { chooseLimit } from "../../../src/core/limits/precedence.ts";
import { shippedSet } from "../../curves/shipped-sets.ts";

const point =
  programmeFor(shippedSet("nema-ab-4-inverse-time"), {
    label: "x",
    ratedAmps: 20,
    poles: 1,
    volts: 240,
  })[0] ?? null;
const band: Band = {
  id: "invented-band",
  title: "Invented",
  current: "multiple",
  minimum: [
    [1, 100],
    [10, 1],
  ],
  maximum: [
    [1, 200],
    [10, 2],
  ],
  source: {
    document: "Invented",
    edition: null,
    clause: null,
    standing: "read in the document",
    doubtful: false,
    note: "n",
  },
};

describe("chooseLimit", () => {
  it("takes what the lab puts first, and prints the choice", () => {
    expect(chooseLimit("band first", { band, point })).toMatchObject({
      by: "band",
      words:
        "Order of precedence: band first. Judged by the published band invented-band; row 300-250v-to-30 of nema-ab-4-inverse-time stands back.",
    });
    expect(chooseLimit("table first", { band, point })).toMatchObject({
      by: "table",
      words: expect.stringContaining("the published band invented-band stands back"),
    });
  });

  it("takes the other where there is only one, and says so", () => {
    expect(chooseLimit("band first", { band: null, point })).toMatchObject({
      by: "table",
      words: expect.stringContaining("no published band was given"),
    });
    expect(chooseLimit("table first", { band, point: null })).toMatchObject({
      by: "band",
      words: expect.stringContaining("no table has a row here"),
    });
  });

  it("refuses where there is neither", () => {
    expect(chooseLimit("band first", { band: null, point: null })).toMatchObject({
      ok: false,
      code: "no-limit",
    });
  });
});
