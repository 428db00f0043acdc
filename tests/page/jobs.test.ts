import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenView } from "../../src/contract/http.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("jobs page", () => {
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

  it("opens a job, and refuses one whose day lies ahead at its field", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/jobs`);
    await page.getByRole("button", { name: "Open a job" }).click();
    for (const [label, words] of [
      ["Name of the job", "Mill Lane 3"],
      ["Site", "Mill Lane 3, Invented Town"],
      ["Day of the removal", "2999-01-01"],
      ["Removed by", "J. D., licensed electrician"],
      ["On whose authority", "the owner"],
      ["Panels, a line each", "main\ngarage"],
      ["Entered by", "J. D."],
    ] as const)
      await page.getByLabel(label).fill(words);
    await page.getByRole("button", { name: "Open the job" }).click();
    await page.locator("#job-on-problem", { hasText: "lies ahead" }).waitFor();
    await page.getByLabel("Day of the removal").fill("2025-03-14");
    await page.getByRole("button", { name: "Open the job" }).click();
    await page.locator("article h1", { hasText: "Mill Lane 3" }).waitFor();
    await page.getByText("No specimen names this job yet.").waitFor();
    await expect
      .poll(() => page.locator("article").textContent(), { timeout: 10_000 })
      .toContain("main, garage");
    await leave();
  });

  it("receives twenty alike with one label typed, one scanned, and the rest counted up", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/jobs/Mill%20Lane%203`);
    await page.getByLabel("Rated current").fill("20");
    await page.getByLabel("Poles", { exact: true }).selectOption("1");
    await page.getByLabel("Rated voltage").fill("120");
    await page.getByLabel("Panel").selectOption("main");
    await page.getByLabel("How many").fill("20");
    await page.getByLabel("Label, line 1", { exact: true }).fill("ML-01");
    await page.getByLabel("Circuit, line 1", { exact: true }).fill("1");
    expect(await page.getByLabel("Label, line 20").inputValue()).toBe("ML-20");
    expect(await page.getByLabel("Circuit, line 20").inputValue()).toBe("20");
    // A scanner on line 11: it types over what stands there, and Enter goes on.
    await page.getByLabel("Label, line 11").focus();
    await page.keyboard.type("MX-31");
    await page.keyboard.press("Enter");
    await page.waitForTimeout(100);
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(
      "Label, line 12",
    );
    expect(await page.getByLabel("Label, line 20").inputValue()).toBe("MX-40");
    await page.getByLabel("Label, line 20").focus();
    await page.keyboard.press("Enter");
    await eventually(() => page.locator(".alike tbody tr").count()).toBe(21);
    await page.getByLabel("Take line 21 away").click();
    await picture(page, "jobs-alike", true);
    await page.getByRole("button", { name: "Receive 20" }).click();
    await page.locator(".form-done", { hasText: "Received 20: ML-01 to MX-40" }).waitFor();
    const received = await lab.get<SpecimenView[]>("/api/specimens");
    expect(new Set(received.map((one) => one.details.label)).size).toBe(20);
    expect(received.find((one) => one.details.label === "MX-40")?.details).toMatchObject({
      ratedAmps: 20,
      panel: "main",
      circuit: "20",
      job: "Mill Lane 3",
    });
    await page.setViewportSize(tablet);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await picture(page, "jobs-tablet", true);
    await leave();
  });

  it("names the label that is there already, and receives none of the list", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/jobs/Mill%20Lane%203`);
    await page.getByLabel("Rated current").fill("20");
    await page.getByLabel("Poles", { exact: true }).selectOption("1");
    await page.getByLabel("Rated voltage").fill("120");
    await page.getByLabel("How many").fill("3");
    await page.getByLabel("Label, line 1", { exact: true }).fill("ML-09");
    await page.getByRole("button", { name: "Receive 3" }).click();
    const wrong = page.getByLabel("What is wrong, line by line").first();
    await wrong.waitFor();
    await expect.poll(() => wrong.textContent(), { timeout: 10_000 }).toContain("line 1 (ML-09), label");
    expect((await lab.get<SpecimenView[]>("/api/specimens")).length).toBe(20);
    await leave();
  });

  it("imports a pasted list whole or not at all", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/jobs`);
    const field = page.getByLabel("or paste its lines");
    await field.fill(
      "label,ratedAmps,poles,volts,job\nHR-1,20,1,120,Hill Road 1\nHR-2,twenty,9,120,Hill Road 1",
    );
    await page.getByRole("button", { name: "Import" }).click();
    const wrong = page.getByLabel("What is wrong, line by line");
    await wrong.waitFor();
    await expect.poll(() => wrong.textContent(), { timeout: 10_000 }).toContain("line 3, ratedAmps");
    await expect.poll(() => wrong.textContent(), { timeout: 10_000 }).toContain("line 3, poles");
    expect((await lab.get<SpecimenView[]>("/api/specimens")).length).toBe(20);
    await field.fill("label,ratedAmps,poles,volts,job\nHR-1,20,1,120,Hill Road 1\nHR-2,20,1,120,Hill Road 1");
    await page.getByRole("button", { name: "Import" }).click();
    await eventually(() => page.locator(".shots tbody tr").count()).toBe(2);
    await expect
      .poll(() => page.locator(".shots").textContent(), { timeout: 10_000 })
      .toContain("never opened");
    await picture(page, "jobs", true);
    await leave();
  });
});
