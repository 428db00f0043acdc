import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from "vitest";
import type { Verdict } from "../../src/core/limits/verdict.ts";
import type { Reading } from "../../src/core/signal/reading.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { type FakeBench, openFakeBench } from "./fake-bench.ts";

const reading = (change: Partial<Reading>): Reading =>
  ({
    outcome: "tripped",
    seconds: 55.37,
    interval: { lower: 55.36, upper: 55.38 },
    heldSeconds: 55.37,
    effectiveAmps: 40.1,
    lowestAmps: 39.8,
    highestAmps: 40.4,
    multiple: 2.005,
    targetAmps: 40,
    uncertainty: {
      standard: 0.61,
      expanded: 1.22,
      k: 2,
      effectiveDegreesOfFreedom: null,
      budget: [
        {
          contribution: "current",
          value: 0.4,
          unit: "A",
          distribution: "normal",
          divisor: 2,
          sensitivity: 3.05,
          seconds: 0.61,
          degreesOfFreedom: null,
          share: 1,
        },
      ],
      model: "single time constant.",
    },
    flags: [],
    samples: 3322,
    ...change,
  }) as Reading;

const verdict = (change: Partial<Verdict>): Verdict => ({
  result: "pass",
  finding: "tripped in time",
  statement: null,
  probability: null,
  limitSeconds: 120,
  limitSet: "ul-489-calibration",
  row: "200-to-30",
  rule: { kind: "simple" },
  confirmed: false,
  reasons: ["Tripped after 55.37 s; the specimen must trip within 120 s."],
  ...change,
});

withBrowser("record page", () => {
  let browser: Browser;
  let bench: FakeBench;
  let page: Page;
  let leave: () => Promise<void>;
  beforeAll(async () => {
    browser = await openBrowser();
    bench = await openFakeBench();
    const first = bench.receive({
      label: "A-1",
      ratedAmps: 20,
      poles: 1,
      volts: 120,
      demo: true,
      job: "Mill Lane 3",
    });
    const second = bench.receive({ label: "B-7", ratedAmps: 20, poles: 1, volts: 120 });
    const point = bench.programme(first)[0]?.point;
    if (point === undefined) throw new Error("the limit set has no test for 20 A");
    const held = { outcome: "held" as const, seconds: null, interval: null, uncertainty: null };
    bench.record(first, point, reading({}), verdict({}), "rig-ended");
    bench.record(
      first,
      point,
      reading({ ...held, heldSeconds: 127 }),
      verdict({ result: "fail", finding: "no trip" }),
      "limit",
    );
    bench.record(
      second,
      point,
      reading({ ...held, outcome: "interrupted", heldSeconds: 31 }),
      verdict({ result: "undetermined", finding: "not decided" }),
      "host-died",
    );
    bench.record(
      second,
      point,
      reading({ flags: ["not-cold"] }),
      verdict({ result: "excluded", finding: "not decided", limitSeconds: null }),
      "rig-ended",
    );
  });
  afterAll(async () => {
    await browser.close();
    await bench.close();
  });
  beforeEach(async () => {
    ({ page, leave } = await openPage(browser, `${bench.url}#/record`));
    await page.locator(".shots tbody tr").first().waitFor();
  });
  afterEach(() => leave());

  const rows = () => page.locator(".shots tbody tr").allTextContents();
  const open = async (id: string) => {
    await page.getByRole("link", { name: id }).click();
    await page.locator("#shot-title").waitFor();
    await page.locator(".shot-charts .uplot").nth(1).waitFor();
    await page.waitForTimeout(200);
  };

  it("lists every test, newest first, each with glyph and word", async () => {
    await picture(page, "record-list-laptop");
    const text = await rows();
    expect(text.map((row) => row.slice(0, 10))).toEqual([
      "TEST-T0004",
      "TEST-T0003",
      "TEST-T0002",
      "TEST-T0001",
    ]);
    expect(text[0]).toContain("Excluded");
    expect(text[1]).toContain("no trip in 31 s");
    expect(text[3]).toContain("55.37 s");
    expect(text[3]).toContain("demo");
    expect(text[0]).not.toContain("demo");
    expect(await page.locator(".shots tbody .result svg").count()).toBe(4);
    // Different results have different outlines, so that colour is not needed.
    const outlines = await page
      .locator(".shots tbody .result svg")
      .evaluateAll((all) => all.map((svg) => svg.innerHTML));
    expect(new Set(outlines).size).toBe(4);
  });

  it("filters by specimen and by result, with the counts beside", async () => {
    await page.getByRole("button", { name: "Fail (1)" }).click();
    expect(await rows()).toHaveLength(1);
    await page.getByRole("button", { name: "All (4)" }).click();
    await page.getByPlaceholder("Search specimen, job or test").fill("b-7");
    await eventually(rows).toHaveLength(2);
    expect(await page.getByRole("button", { name: "Pass (0)" }).count()).toBe(1);
    await page.getByPlaceholder("Search specimen, job or test").fill("nothing of that name");
    await eventually(() => page.locator(".empty").textContent()).toBe("No test matches.");
  });

  it("is walked with the arrow keys and opened with Enter", async () => {
    await page.locator(".shots tbody a").first().focus();
    await page.keyboard.press("End");
    await page.keyboard.press("Enter");
    await eventually(() => page.locator("#shot-title").textContent()).toContain("A-1: 200 % on pole 1 alone");
  });

  it("shows one test whole", async () => {
    await open("TEST-T0001");
    await picture(page, "record-shot-laptop", true);
    const text = (await page.locator("article").textContent()) ?? "";
    for (const part of [
      "A-1 tripped after 55.37 s. It tripped in time.",
      "must trip within 120 s",
      "55.4 ± 1.2 s",
      "Uncertainty of the time",
      "single time constant",
      "Where each number comes from",
      "marked on the specimen",
      "a".repeat(64),
      "d".repeat(64),
      "Test-Rig, serial T-7",
      "not confirmed by this lab",
    ])
      expect(text).toContain(part);
    const traces = bench.requests.map((one) => one.path).filter((path) => path.includes("/trace"));
    expect(traces.length).toBeGreaterThan(0);
    for (const path of traces)
      expect(Number(new URL(path, bench.url).searchParams.get("points"))).toBeLessThanOrEqual(4000);
  });

  it("explains in plain words what interrupted, undetermined and excluded mean", async () => {
    await open("TEST-T0003");
    await picture(page, "record-undetermined-laptop", true);
    const interrupted = (await page.locator(".verdict").textContent()) ?? "";
    expect(interrupted).toContain("neither a pass nor a fail");
    expect(interrupted).toContain(
      "Interrupted means that the current was switched off before the test was over",
    );
    expect(interrupted).toContain("The bench program ended in the middle of the test");
    await page.getByRole("link", { name: "All tests" }).click();
    await open("TEST-T0004");
    const excluded = (await page.locator(".verdict").textContent()) ?? "";
    expect(excluded).toContain("cannot be used");
    expect(excluded).toContain("The specimen was still warm from an earlier shot.");
  });

  it("stands upright on a tablet without sideways scrolling", async () => {
    await page.setViewportSize(tablet);
    await picture(page, "record-list-tablet");
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
    await open("TEST-T0001");
    await picture(page, "record-shot-tablet");
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
  });

  it("says in words that there is no such test", async () => {
    await page.goto(`${bench.url}#/record/TEST-T9999`);
    await eventually(() => page.locator(".problem").textContent()).toContain("There is no");
  });
});
