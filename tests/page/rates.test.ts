import { readFileSync } from "node:fs";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, openBrowser, openPage, picture, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("failure rates page", () => {
  let browser: Browser;
  let lab: SmallLab;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    const breakers = ["sound", "never-trips", "sound", "sound", "never-trips"];
    for (const [at, emulatedBreaker] of breakers.entries()) {
      const { id } = await lab.receive({
        label: `A-${at + 1}`,
        job: at < 3 ? "Mill Lane 3" : "Hill Road 1",
        panel: "cellar",
        madeYear: at < 3 ? 1974 : 1991,
        selection: "at random",
        emulatedBreaker,
      });
      await lab.shoot(id, 2);
    }
    await lab.receive({ label: "A-6", job: "Hill Road 1", emulatedBreaker: "sound" });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("counts k of n with bounds, divides at once, and says who is in and who is out", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/rates`);
    await page.locator(".rates tbody tr").first().waitFor();
    await expect
      .poll(() => page.locator(".rates tbody tr").textContent(), { timeout: 10_000 })
      .toContain("2 of 5");
    // Exact bounds of 2 of 5: Clopper and Pearson (1934), Biometrika 26, 404-413; 0.0527 and 0.8534.
    await expect
      .poll(() => page.locator(".rates tbody tr").textContent(), { timeout: 10_000 })
      .toContain("5.27 % to 85.3 %");
    await expect
      .poll(() => page.locator(".caution-line").textContent(), { timeout: 10_000 })
      .toContain("no sample of the installed base");
    await page.getByRole("button", { name: "decade of manufacture" }).click();
    await eventually(() => page.locator(".rates tbody tr").count()).toBe(3);
    expect(await page.locator(".rates tbody tr td:nth-child(2)").allTextContents()).toEqual([
      "1 of 3",
      "1 of 2",
      "2 of 5",
    ]);
    await page.locator(".figure img").waitFor();
    await page.waitForTimeout(300);
    await picture(page, "rates", true);
    await page.getByRole("button", { name: "Not counted (1)" }).click();
    await expect.poll(() => page.locator(".lined tbody").textContent(), { timeout: 10_000 }).toContain("A-6");
    await leave();
  });

  it("shows times to trip and margins, copies the sentence, and keeps table and picture as files", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/rates`);
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.getByRole("button", { name: "Copy the sentence" }).click();
    await page.locator("text=Copied.").waitFor();
    const copied = await page.evaluate(() => navigator.clipboard.readText());
    expect(copied).toContain("2 of 5 specimens failed");
    expect(copied).toContain("no sample of the installed base");
    const keep = async (name: string) => {
      const [file] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("link", { name, exact: true }).click(),
      ]);
      return readFileSync(await file.path(), "utf8");
    };
    expect(await keep("Table as CSV")).toMatch(/^failed,decided,.*\r?\n2,5,0\.4,/);
    expect(JSON.parse(await keep("Everything as JSON"))).toMatchObject({ total: { k: 2, n: 5 } });
    expect(await keep("Picture as SVG")).toMatch(/^<svg/);
    for (const name of ["Times to trip", "Margins to the limit"]) {
      await page.getByRole("button", { name }).click();
      await page.locator(".figure img").waitFor();
      await page.waitForTimeout(500);
      await page.locator(".figure").scrollIntoViewIfNeeded();
      await picture(page, `rates-${name.slice(0, 5).toLowerCase()}`, true);
    }
    await leave();
  });

  it("says what is not accepted and what is not estimable", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/rates`);
    await page.getByLabel("Confidence").fill("1.5");
    await page.locator("#rate-confidence-problem").waitFor();
    await expect
      .poll(() => page.locator("#rate-confidence-problem").textContent(), { timeout: 10_000 })
      .toContain('found "1.5"');
    await page.getByLabel("Confidence").fill("0.95");
    await page.getByLabel("State").selectOption("exercised");
    await eventually(() => page.locator(".rates tbody tr").first().textContent()).toContain("not estimable");
    await page.locator(".figure .problem", { hasText: "nothing to draw" }).waitFor();
    expect(await page.locator("main").textContent()).not.toContain("NaN");
    await picture(page, "rates-none", true);
    await leave();
  });
});
