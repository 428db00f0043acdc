import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { unzipFiles } from "../../src/exchange/zip-files.ts";
import { tool } from "../system/asfound.ts";
import { laptop, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";
import { smallTargets } from "./target-sizes.ts";

withBrowser("exhibits page", () => {
  let browser: Browser;
  let lab: SmallLab;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    const specimen = await lab.receive({ label: "ML-01", job: "Mill Lane 3", emulatedBreaker: "sound" });
    await lab.receive({ label: "ML-02", job: "Mill Lane 3" });
    await lab.shoot(specimen.id, 2);
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  /** Keeps the file that was made, and gives its bytes and the hash that the page shows. */
  async function keep(page: Page, section: string): Promise<{ bytes: Buffer; path: string; name: string }> {
    const part = page.locator("section", { has: page.locator(section) });
    const link = part.getByRole("link", { name: "Keep the file" });
    await link.waitFor({ timeout: 60_000 });
    const [download] = await Promise.all([page.waitForEvent("download"), link.click()]);
    const path = await download.path();
    const bytes = readFileSync(path);
    await expect
      .poll(() => part.locator(".hash").textContent(), { timeout: 10_000 })
      .toBe(createHash("sha256").update(bytes).digest("hex"));
    return { bytes, path, name: download.suggestedFilename() };
  }

  it("makes the letter to an owner and the labels", async () => {
    const { page, leave } = await openPage(
      browser,
      `${lab.page}#/exhibits/job/${encodeURIComponent("Mill Lane 3")}`,
    );
    await page.getByLabel("Whom the letter is for").fill("the owner of Mill Lane 3");
    await page.getByRole("button", { name: "Make the letter" }).click();
    const letter = await keep(page, "#sheets-title");
    expect(letter.name).toBe("letter-Mill-Lane-3.pdf");
    expect(letter.bytes.subarray(0, 5).toString()).toBe("%PDF-");
    await picture(page, "exhibits-letter", true);
    await page.getByRole("button", { name: "Make the labels" }).click();
    await page.getByText("labels-Mill-Lane-3.pdf").waitFor({ timeout: 60_000 });
    const labels = await keep(page, "#sheets-title");
    expect(labels.bytes.subarray(0, 5).toString()).toBe("%PDF-");
    expect(labels.bytes.equals(letter.bytes)).toBe(false);
    await leave();
  }, 120_000);

  it("finds a specimen by a scan, and makes its document with label, case and page numbers", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/exhibits`);
    await page.locator(".subject-list button").nth(2).waitFor();
    // A scanner types into whatever has the focus, and ends with Enter.
    await page.keyboard.type("ml-01");
    await page.keyboard.press("Enter");
    await page.locator(".chosen", { hasText: "ML-01" }).waitFor();
    await page.getByLabel("Exhibit label").fill("Exhibit A");
    await page.getByLabel("Case, as the court").fill("Invented v. Invented");
    await page.getByLabel("Number the pages").fill("LAB-");
    await page.getByRole("button", { name: "Make the document" }).click();
    await page.locator("progress").waitFor();
    const { path, name } = await keep(page, "#exhibit-title");
    expect(name).toBe("exhibit-ML-01.pdf");
    const words = tool("pdftotext", [path, "-"]);
    for (const one of ["ML-01", "Exhibit A", "Invented v. Invented", "LAB-"]) expect(words).toContain(one);
    await picture(page, "exhibits", true);
    await leave();
  }, 90_000);

  it("makes the package of a job, sealed or for publication, and the published one names nobody", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/exhibits/job/Mill%20Lane%203`);
    await page.locator(".chosen", { hasText: "job, 2 specimens" }).waitFor();
    await page.getByRole("button", { name: "Make the package" }).click();
    const sealed = await keep(page, "#package-title");
    expect(sealed.name).toBe("package-Mill-Lane-3.zip");
    await page.getByRole("button", { name: "For publication" }).click();
    await expect
      .poll(() => page.locator(".left-out").textContent(), { timeout: 10_000 })
      .toContain("WITHHELD.csv");
    await page.getByRole("button", { name: "Make the package" }).click();
    await page.locator("strong", { hasText: "published-job.zip" }).waitFor({ timeout: 60_000 });
    const published = await keep(page, "#package-title");
    const names = (bytes: Buffer) => {
      const read = unzipFiles(bytes);
      if (!read.ok) throw new Error(read.problem);
      return [...read.files].filter(([, content]) =>
        /Mill Lane|ML-0/.test(Buffer.from(content).toString("latin1")),
      );
    };
    expect(names(sealed.bytes).length).toBeGreaterThan(0);
    expect(names(published.bytes)).toEqual([]);
    await picture(page, "exhibits-package", true);
    await leave();
  }, 90_000);

  it("says what a text fits that names nothing, or more than one thing", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/exhibits`);
    await page.locator(".subject-list button").nth(2).waitFor();
    await page.keyboard.type("ZZ-9");
    await page.keyboard.press("Enter");
    await expect
      .poll(() => page.locator("#subject-scan-problem").textContent(), { timeout: 10_000 })
      .toContain('Found "ZZ-9"');
    await page.locator("#subject-scan").fill("ml-");
    await page.keyboard.press("Enter");
    await expect
      .poll(() => page.locator("#subject-scan-problem").textContent(), { timeout: 10_000 })
      .toContain("fits 2");
    await leave();
  });

  it("is wide enough for a finger and no wider than the screen, on a laptop and on a tablet", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/exhibits`);
    const job = `#/exhibits/job/${encodeURIComponent("Mill Lane 3")}`;
    for (const size of [laptop, tablet])
      for (const [hash, there] of [
        ["#/exhibits", ".subject-list button"],
        [job, "#package-title"],
      ] as const) {
        await page.setViewportSize(size);
        await page.evaluate((next) => (location.hash = next), hash);
        await page.locator(there).first().waitFor();
        expect(await smallTargets(page), `${hash} at ${size.width}`).toEqual([]);
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(width, `${hash} at ${size.width}`).toBeLessThanOrEqual(size.width);
        await picture(page, `exhibits-${there.slice(1, 8)}-${size.width}`, true);
      }
    await leave();
  });
});
