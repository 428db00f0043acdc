import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, openBrowser, openPage, picture, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("plan page", () => {
  let browser: Browser;
  let lab: SmallLab;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("answers how many must all pass, and refuses a confidence of 1 in words", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/plan`);
    // Zero-failure demonstration, n = ln(1 - C)/ln R: 29 at 95 % and 0.9, 59 at 95 % and 0.95. Handbook table values.
    await eventually(() => page.locator("blockquote").textContent()).toMatch(/^29 /);
    await page.locator("#plan-reliability").fill("0.95");
    await eventually(() => page.locator("blockquote").textContent()).toMatch(/^59 /);
    await picture(page, "plan");
    await page.locator("#plan-confidence").fill("1");
    await page.locator("#plan-confidence-problem").waitFor();
    expect(await page.locator("blockquote").count()).toBe(0);
    for (const kind of ["where so many may fail", "wanted width", "good lots", "finite lot"]) {
      await page.getByRole("button", { name: kind }).click();
      await eventually(() => page.locator("blockquote").textContent()).toMatch(/\d/);
    }
    await leave();
  });

  it("bounds the failures left in a place, and says that this is not the chance of a fire", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/plan/place`);
    await page.getByLabel("Breakers, tested included").fill("10");
    await page.getByLabel("Of them tested").fill("10");
    await page.getByLabel("Of the tested, failed").fill("1");
    // All were tested: nothing is left to bound.
    await eventually(() => page.locator(".answer-figure").textContent()).toContain(
      "0 to 0 failures among the 0 still in service",
    );
    await expect
      .poll(() => page.locator(".caution-line").textContent(), { timeout: 10_000 })
      .toContain("not the chance of a fire");
    await page.getByLabel("Of the tested, failed").fill("11");
    await page.locator("main .problem").first().waitFor();
    await leave();
  });

  it("says what rates mean for a panel with intervals, and what they are conditional on", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/plan/panel`);
    await eventually(() => page.locator("tbody tr").count()).toBe(3);
    const before = await page.locator("tbody tr").nth(1).textContent();
    await page.getByLabel("One-pole breakers in the panel").fill("32");
    await eventually(() => page.locator("tbody tr").nth(1).textContent()).not.toBe(before);
    await expect
      .poll(() => page.locator(".caution-line").textContent(), { timeout: 10_000 })
      .toContain("not the chance of a fire");
    await picture(page, "plan-panel", true);
    await page.getByLabel("Take the counts of tested and failed").check();
    await page.locator("main .problem, tbody tr").first().waitFor();
    expect(await page.locator("main").textContent()).not.toContain("NaN");
    await leave();
  });

  it("counts shares of a kind by year from a log, and stores nothing", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/plan/shares`);
    const before = await lab.get<{ entries: number }>("/api/lab");
    await page
      .getByLabel("or paste its lines")
      .fill(
        "place,year,kind\nHouse 1,2023,kind A\nHouse 2,2023,kind B\nHouse 3,2024,kind A\nHouse 4,2024,kind A",
      );
    await page.getByRole("button", { name: "Count" }).click();
    const kindA = page.locator("section[aria-label='kind A']");
    await kindA.waitFor();
    expect(await kindA.locator("tbody tr td:nth-child(2)").allTextContents()).toEqual([
      "1 of 2",
      "2 of 2",
      "3 of 4",
    ]);
    await picture(page, "plan-shares", true);
    expect((await lab.get<{ entries: number }>("/api/lab")).entries).toBe(before.entries);
    await leave();
  });
});
