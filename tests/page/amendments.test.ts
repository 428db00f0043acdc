import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { ShotLine, ShotView, SpecimenView } from "../../src/contract/http.ts";
import type { LedgerExport } from "../../src/contract/ledger-views.ts";
import { eventually, laptop, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";
import { smallTargets } from "./target-sizes.ts";

withBrowser("marks of amendments, and the review of a shot", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimen: SpecimenView;
  let shot: string;
  const amend = (entry: number, path: string, before: unknown, after: unknown) =>
    lab.post("/api/amendments", { entry, path, before, after, why: "read again", by: "R. M." });
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    const job = { job: "Mill Lane 3", site: "Mill Lane", on: "2025-03-14", by: "J. D." };
    await lab.post("/api/jobs", job);
    specimen = await lab.receive({ label: "ML-01", job: "Mill Lane 3", emulatedBreaker: "sound" });
    await lab.receive({ label: "ML-02", job: "Mill Lane 3" });
    await lab.shoot(specimen.id, 2);
    shot = (await lab.get<ShotLine[]>("/api/shots"))[0]?.id ?? "";
    const { entries } = await lab.get<LedgerExport>("/api/ledger");
    const entryOf = (kind: string) => entries.find((one) => one.kind === kind)?.sequence ?? 0;
    await amend(entryOf("specimen-received"), "/details/label", "ML-01", "ML-1");
    await amend(entryOf("specimen-received"), "/details/volts", 120, 240);
    await amend(entryOf("job-opened"), "/site", "Mill Lane", "Mill Lane 3, cellar");
    const exercised = { kind: "exercised", operations: 2 };
    await amend(entryOf("shot-opened"), "/state", { kind: "as-found" }, exercised);
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  const custody = () => `#/custody/specimen/${specimen.id}/amendments`;
  const at = (hash: string) => `${lab.page}${hash}`;

  it("stand in the list of specimens only where something was amended, and lead to the history", async () => {
    const { page, leave } = await openPage(browser, at("#/specimens"));
    await page.locator(".shots tbody tr").nth(1).waitFor();
    expect(await page.locator(".amended").allTextContents()).toEqual(["amended, 2: history of ML-1"]);
    await picture(page, "amended-specimens");
    await page.locator(".amended").click();
    await eventually(() => page.evaluate(() => location.hash)).toBe(custody());
    await page.locator("li", { hasText: 'label: "ML-01" → "ML-1". read again' }).waitFor();
    await page.locator("li", { hasText: "volts: 120 → 240" }).waitFor();
    // The heading of the history has the focus and stands in view, below what else there is of the custody.
    await eventually(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Amendments");
    const box = await page.getByRole("heading", { name: "Amendments" }).boundingBox();
    expect(box?.y).toBeLessThan(laptop.height - 100);
    await picture(page, "amended-history");
    // The row in which the mark stands was not opened on the way.
    await page.goBack();
    expect(await page.evaluate(() => location.hash)).toBe("#/specimens");
    await leave();
  });

  it("do not stand in the way of the arrow keys, which go from row to row", async () => {
    const { page, leave } = await openPage(browser, at("#/specimens"));
    await page.locator(".shots tbody .open").first().focus();
    await page.keyboard.press("ArrowDown");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("ML-02");
    await leave();
  });

  it("stand on the page of the specimen", async () => {
    const { page, leave } = await openPage(browser, at(`#/specimens/${specimen.id}`));
    const mark = page.locator(".shot-head .amended");
    await eventually(() => mark.getAttribute("href")).toBe(custody());
    expect(await mark.textContent()).toBe("amended, 2: history of ML-1");
    await picture(page, "amended-specimen");
    await leave();
  });

  it("stand on the page of the job, of itself and of its specimens", async () => {
    const { page, leave } = await openPage(browser, at("#/jobs/Mill%20Lane%203"));
    await eventually(() => page.locator(".amended").allTextContents()).toEqual([
      "amended, 1: history of Mill Lane 3",
      "amended, 2: history of ML-1",
    ]);
    await picture(page, "amended-job");
    await page.locator(".amended").first().click();
    await page.locator("li", { hasText: 'site: "Mill Lane" → "Mill Lane 3, cellar"' }).waitFor();
    await leave();
  });

  it("of a test stand in the record, and open its history in the page of the test", async () => {
    const { page, leave } = await openPage(browser, at("#/record"));
    await page.locator(".shots .amended").click();
    await eventually(() => page.evaluate(() => location.hash)).toBe(`#/record/${shot}/amendments`);
    await page
      .locator("li", { hasText: "state: as found → exercised, operated 2 times. read again" })
      .waitFor();
    const isAtHistory = () => page.evaluate(() => document.activeElement?.textContent);
    await eventually(isAtHistory).toBe("Amendments");
    await picture(page, "amended-shot-history");
    expect(await page.locator(".shot-head .amended").allTextContents()).toEqual([
      "amended, 2: history of ML-1",
      `amended, 1: history of test ${shot}`,
    ]);
    // From the top again, although the address does not change.
    await page.locator("#content").focus();
    await page.locator(".shot-head .amended").nth(1).click();
    await eventually(isAtHistory).toBe("Amendments");
    await leave();
  });

  it("a shot is reviewed and released by a second person, and an amendment replaces its issue", async () => {
    const { page, leave } = await openPage(browser, at(`#/record/${shot}`));
    const review = page.locator("section", { has: page.locator("#review-title") });
    await review.locator(".standing", { hasText: "Not reviewed" }).waitFor();
    await review.locator("summary", { hasText: "Review it" }).click();
    await review.locator("#review-by").fill("R. M.");
    await review.getByRole("button", { name: "Write down the review" }).click();
    await review.locator("#review-by-problem", { hasText: "second person" }).waitFor();
    await review.locator("#review-by").fill("A. B.");
    await review.getByRole("button", { name: "Write down the review" }).click();
    await review.locator(".standing", { hasText: /^Reviewed$/ }).waitFor();
    await review.getByRole("button", { name: "Release issue 1" }).click();
    await review.locator(".standing", { hasText: /^Released: issue 1$/ }).waitFor();
    await review.scrollIntoViewIfNeeded();
    await picture(page, "shot-released", true);
    const { opened } = await lab.get<ShotView>(`/api/shots/${shot}`);
    const was = { kind: "exercised", operations: 2 };
    await amend(opened.sequence, "/state", was, { kind: "exercised", operations: 3 });
    await review.locator(".standing", { hasText: /^Superseded: issue 1$/ }).waitFor();
    await page.locator(".shot-head .amended", { hasText: "amended, 2: history of test" }).waitFor();
    await leave();
  });

  it("are high enough for a finger, and none of these pages scrolls sideways", async () => {
    const { page, leave } = await openPage(browser, at("#/specimens"));
    for (const size of [laptop, tablet])
      for (const [name, hash] of [
        ["specimens", "#/specimens"],
        ["specimen", `#/specimens/${specimen.id}`],
        ["job", "#/jobs/Mill%20Lane%203"],
        ["record", "#/record"],
        ["shot", `#/record/${shot}`],
        ["custody", custody()],
      ]) {
        await page.setViewportSize(size);
        await page.evaluate((next) => (location.hash = next), hash ?? "");
        await page.locator(".amended, .reasons").first().waitFor();
        await page.waitForTimeout(400);
        expect(await smallTargets(page), `${name} at ${size.width}`).toEqual([]);
        const width = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(width, `${name} at ${size.width}`).toBeLessThanOrEqual(size.width);
        await picture(page, `amended-${name}-${size.width}`, true);
      }
    await leave();
  }, 60_000);
});
