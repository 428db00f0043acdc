import { writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, openBrowser, openPage, picture, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

const header = "study,year,stratum,criterion,multiple,tested,failed,selection,citation,rob_sampling";
/** Invented counts: no such publications exist. */
const sound = [
  header,
  'Invented A,1991,two-pole,no trip within the limit,2,60,5,at random,"Invented source, page 2",low',
  'Invented B,1999,two-pole,no trip within the limit,2,44,9,on suspicion,"Invented source, page 7",high',
  'Invented C,2006,one-pole,no trip within the limit,2,120,4,all of a panel,"Invented source, page 1",unclear',
  'Invented D,2012,one-pole,no trip within one hour,1.35,80,14,unknown,"Invented source, table 3",high',
].join("\n");
const unsound = [
  header,
  "Invented A,1991,two-pole,no trip within the limit,2,60,61,at random,page 2,low",
  "Invented B,soon,two-pole,no trip within the limit,2,44,9,by chance,page 7,high",
].join("\n");

withBrowser("studies page", () => {
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

  it("names every wrong line and stores nothing of such a file", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/studies`);
    await page.getByLabel("or paste its lines").fill(unsound);
    await page.getByRole("button", { name: "Import" }).click();
    const wrong = page.getByLabel("What is wrong, line by line");
    await wrong.waitFor();
    const words = (await wrong.textContent()) ?? "";
    expect(words).toContain("line 2, failed");
    expect(words).toContain("line 3, year");
    expect(words).toContain("line 3, selection");
    await picture(page, "studies-wrong", true);
    expect(await lab.get("/api/studies")).toEqual([]);
    await leave();
  });

  it("imports a chosen file, pools one criterion, marks another one's studies only where they are asked for", async () => {
    const file = join(tmpdir(), `asfound-studies-${process.pid}.csv`);
    writeFileSync(file, sound);
    const { page, leave } = await openPage(browser, `${lab.page}#/studies`);
    await page.getByLabel("choose a file").setInputFiles(file);
    await eventually(() => page.getByLabel("or paste its lines").inputValue()).toContain("Invented D");
    await page.getByRole("button", { name: "Import" }).click();
    const pooled = page.locator("section", { has: page.locator("#pool-title") });
    await pooled.locator(".figure img").waitFor();
    expect(await page.locator("#studies-title ~ .table-frame tbody tr").count()).toBe(4);
    await expect
      .poll(() => pooled.locator("blockquote").textContent(), { timeout: 10_000 })
      .toMatch(/3 studies|18 of 224/);
    expect(await pooled.locator(".different").count()).toBe(0);
    await page.waitForTimeout(400);
    await picture(page, "studies", true);
    // Common effect on logits, by inverse variance: weights k(n - k)/n of 4.583, 7.159 and 3.867 and logits -2.398, -1.358
    // and -3.367 give -2.161, a rate of 10.3 %. Source of the formulas: Borenstein, Hedges, Higgins, Rothstein (2009),
    // Introduction to Meta-Analysis, chapter 11.
    await page.getByLabel("Model", { exact: true }).selectOption("common");
    await eventually(() => pooled.locator(".facts").first().textContent()).toContain("Pooled rate10.3 %");
    await page.locator("#pool-criterion").selectOption("");
    await pooled.locator(".problem", { hasText: "different criteria" }).waitFor();
    await page.getByLabel("Pool studies of different criteria").check();
    await eventually(() => pooled.locator(".different").count()).toBe(1);
    await page.locator("summary", { hasText: "Every model side by side" }).click();
    await eventually(() => page.locator("details tbody tr").count()).toBe(6);
    await page.getByRole("button", { name: "Funnel" }).click();
    await page.waitForTimeout(600);
    await picture(page, "studies-mixed", true);
    expect(await page.locator("main").textContent()).not.toContain("NaN");
    await leave();
  });
});
