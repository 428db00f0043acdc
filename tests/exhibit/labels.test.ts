import { execFileSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { type LabelSheet, labelPlaces, renderLabels } from "../../src/exhibit/pdf/render-labels.ts";
import { toolIsThere } from "../system/asfound.ts";
import { readCode } from "./read-code.ts";

const sheet = (count: number, more: Partial<LabelSheet> = {}): LabelSheet => ({
  lab: "Invented lab",
  station: "7K2M",
  dated: new Date("2025-01-31T08:00:00.000Z"),
  skip: 0,
  labels: Array.from({ length: count }, (_, at) => ({
    specimen: `7K2M-S${String(at + 1).padStart(4, "0")}`,
    label: at === 1 ? "a label of sixty letters that is far too wide for its place...." : `KS-${at + 1}`,
    ratedAmps: 20,
    poles: 1,
    volts: 120,
    demo: false,
  })),
  ...more,
});

const run = (tool: string, args: readonly string[], pdf: Uint8Array) =>
  execFileSync(tool, args, { input: pdf, maxBuffer: 1e8 });

/** Dark or light at a point of a page, in points from the upper left corner. */
function pageOf(pdf: Uint8Array, page: number): (x: number, y: number) => boolean {
  const perPoint = 2;
  const image = run(
    "pdftoppm",
    [...["-r", "144", "-gray", "-f", String(page), "-l", String(page)], "-"],
    pdf,
  );
  const head = /^P5\n(\d+) (\d+)\n255\n/.exec(image.subarray(0, 40).toString("latin1"));
  if (head === null) throw new Error("no picture of the page");
  const width = Number(head[1]);
  return (x, y) =>
    (image[head[0].length + Math.round(y * perPoint) * width + Math.round(x * perPoint)] ?? 255) < 128;
}

/** Text of the code on one place of a page. */
function codeAt(isDark: (x: number, y: number) => boolean, place: number): string {
  const x = labelPlaces.left + (place % labelPlaces.columns) * labelPlaces.columnPitch + 8;
  const y = labelPlaces.top + Math.floor(place / labelPlaces.columns) * labelPlaces.height + 15;
  return readCode((row, column) => isDark(x + column * 2 + 1, y + row * 2 + 1));
}

describe("sheets of labels", () => {
  it("are the same bytes for the same sheet, and others for another", async () => {
    const [one, again, other] = await Promise.all([
      renderLabels(sheet(2)),
      renderLabels(sheet(2)),
      renderLabels(sheet(2, { skip: 1 })),
    ]);
    expect(Buffer.compare(one, again)).toBe(0);
    expect(Buffer.compare(one, other)).not.toBe(0);
  });

  it("refuse to be empty, and a place that is not on a sheet", async () => {
    await expect(renderLabels(sheet(0))).rejects.toThrow("at least one label but has none");
    await expect(renderLabels(sheet(1, { skip: 30 }))).rejects.toThrow("0 to 29 but found 30");
    await expect(renderLabels(sheet(1, { skip: 0.5 }))).rejects.toThrow("found 0.5");
  });
});

describe.runIf(["pdftoppm", "pdftotext"].every(toolIsThere))("labels as printed", () => {
  it("hold each specimen's identifier in its code, from the first free place on, over two sheets", async () => {
    const pdf = await renderLabels(sheet(12, { skip: 20 }));
    const first = pageOf(pdf, 1);
    expect(Array.from({ length: 10 }, (_, at) => codeAt(first, 20 + at))).toEqual(
      sheet(10).labels.map((one) => one.specimen),
    );
    expect(() => codeAt(first, 19)).toThrow("no finder");
    const second = pageOf(pdf, 2);
    expect([codeAt(second, 0), codeAt(second, 1)]).toEqual(["7K2M-S0011", "7K2M-S0012"]);
  });

  it("say label, rating, poles, identifier and station, and keep a long label on its place", async () => {
    const pdf = await renderLabels(sheet(2));
    const text = run("pdftotext", ["-layout", "-", "-"], pdf).toString();
    for (const words of ["KS-1", "20 A, 1 pole, 120 V", "7K2M-S0001", "station 7K2M"])
      expect(text).toContain(words);
    const boxes = run("pdftotext", ["-bbox", "-", "-"], pdf).toString();
    const ends = [...boxes.matchAll(/xMax="([\d.]+)"[^>]*>(\w|\.)/g)].map((one) => Number(one[1]));
    const right = labelPlaces.left + labelPlaces.columnPitch + labelPlaces.width;
    expect(ends.length).toBeGreaterThan(10);
    expect(Math.max(...ends)).toBeLessThanOrEqual(right);
    expect(text).not.toContain("DEMO");
  });

  it("mark what is invented", async () => {
    const labels = sheet(1).labels.map((one) => ({ ...one, demo: true }));
    const text = run("pdftotext", ["-layout", "-", "-"], await renderLabels(sheet(1, { labels }))).toString();
    expect(text).toContain("DEMO, invented");
  });
});
