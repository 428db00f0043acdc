import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("limits page", () => {
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

  it("shows every set and every row with its source and how well it is known", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/limits`);
    const sets =
      await lab.get<{ set: { id: string; rows: unknown[]; instantaneous?: unknown[] } }[]>("/api/limits");
    await eventually(() => page.locator(".set-list a").count()).toBe(sets.length);
    for (const { set } of sets) {
      await page.goto(`${lab.page}#/limits/sets/${set.id}`);
      const rows = set.rows.length + (set.instantaneous?.length ?? 0);
      await eventually(() => page.locator(".limit-rows tbody tr").count()).toBe(rows);
      expect(await page.locator(".limit-rows .standing").count()).toBe(rows);
    }
    await page.goto(`${lab.page}#/limits`);
    await page.locator(".limit-rows").first().waitFor();
    await picture(page, "limits", true);
    await page.setViewportSize(tablet);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await leave();
  });

  it("confirms the ticked rows under a name, and no others", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/limits/sets/ul-489-calibration`);
    await page.locator("summary", { hasText: "Confirm rows" }).click();
    await page.getByLabel("Edition of your copy").fill("11th");
    await page.getByLabel("Who compared").fill("J. D.");
    await page.getByRole("button", { name: "Confirm the ticked rows" }).click();
    await page.locator(".field-problem", { hasText: "None is ticked" }).waitFor();
    await page.locator(".row-ticks").getByLabel("200-to-30:").check();
    await page.getByRole("button", { name: "Confirm the ticked rows" }).click();
    await page.locator(".form-done", { hasText: "1 row confirmed" }).waitFor();
    await eventually(() => page.locator(".limit-rows td", { hasText: "✓ confirmed" }).count()).toBe(1);
    await expect
      .poll(() => page.locator("main").textContent(), { timeout: 10_000 })
      .toContain("J. D.: 1 row compared with");
    await picture(page, "limits-confirmed", true);
    await leave();
  });

  it("names the line of a band whose edges cross, and adds one that is sound", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/limits/bands`);
    for (const [label, words] of [
      ["Name, lower case", "frame-q"],
      ["Title", "Frame Q, thermal"],
      ["Publication", "Invented curve sheet"],
      ["Your code for the type", "Q"],
    ] as const)
      await page.getByLabel(label).fill(words);
    const points = (latest: number) =>
      `edge,multiple,seconds\nminimum,1.35,60\nminimum,6,0.9\nmaximum,1.35,1800\nmaximum,6,${latest}`;
    await page.getByLabel("or paste its lines").fill(points(0.5));
    await page.getByRole("button", { name: "Add the band" }).click();
    const wrong = page.getByLabel("What is wrong, line by line");
    await wrong.waitFor();
    await expect.poll(() => wrong.textContent(), { timeout: 10_000 }).toContain("line 3: the edges cross");
    await page.getByLabel("or paste its lines").fill(points(9));
    await page.getByRole("button", { name: "Add the band" }).click();
    await eventually(() => page.locator("tbody tr").count()).toBe(1);
    await expect
      .poll(() => page.locator("tbody tr").textContent(), { timeout: 10_000 })
      .toContain("Frame Q, thermal");
    await picture(page, "limits-bands", true);
    await leave();
  });

  it("records a certificate of the rig, and refuses one without an uncertainty in words", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/limits/calibrations`);
    await page.getByRole("button", { name: "Take the rig's own" }).click();
    await page.getByLabel("Number of the certificate").fill("C-17");
    await page.getByLabel("Issued by").fill("Invented laboratory");
    await page.getByLabel("Calibrated on").fill("2020-01-15");
    await page.getByLabel("Last day of use").fill("2021-01-14");
    await page.getByRole("button", { name: "Record the certificate" }).click();
    await page.locator("#calibration-expanded-problem").waitFor();
    await page.getByLabel("Expanded uncertainty U").fill("0.8");
    await page.getByRole("button", { name: "Record the certificate" }).click();
    await eventually(() => page.locator("tbody tr").count()).toBe(1);
    const row = (await page.locator("tbody tr").textContent()) ?? "";
    expect(row).toContain("past due");
    expect(row).toContain("0.8 % of reading, k = 2");
    await picture(page, "limits-calibrations", true);
    await leave();
  });

  it("decides a policy anew and keeps it", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/limits/policy`);
    await page.getByLabel("Calibration of the rig past due").selectOption("flag");
    await page.getByLabel("Cooling time constant").fill("2400");
    await page.getByLabel("Photographs as received").selectOption("demanded");
    await page.getByRole("button", { name: "Decide" }).click();
    await page.locator(".form-done", { hasText: "Decided" }).waitFor();
    expect(await lab.get("/api/policy")).toMatchObject({
      pastDueCalibration: "flag",
      coolingTauSeconds: 2400,
      gate: { photographs: "demanded", checks: "not demanded" },
    });
    await page.reload();
    await eventually(() => page.getByLabel("Cooling time constant").inputValue()).toBe("2400");
    await picture(page, "limits-policy");
    await leave();
  });
});
