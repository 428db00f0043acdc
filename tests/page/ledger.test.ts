import { createHash } from "node:crypto";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { ShotView } from "../../src/contract/http.ts";
import type { LedgerExport } from "../../src/contract/ledger-views.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("ledger page", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimens = 0;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    const specimen = await lab.receive({ label: "A-1", job: "Mill Lane 3", emulatedBreaker: "sound" });
    await lab.receive({ label: "A-2", condition: "dusty" });
    await lab.shoot(specimen.id, 2);
    await lab.post(`/api/specimens/${specimen.id}/handle`, { operations: 2, note: "exercised" });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("tells the newest entry first, in plain words, and filters by kind", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    const { entries } = await lab.get<LedgerExport>("/api/ledger");
    const rows = page.locator(".ledger tbody tr");
    await eventually(() => rows.count()).toBe(entries.length);
    await expect
      .poll(() => rows.first().textContent(), { timeout: 10_000 })
      .toContain("The handle of A-1 was moved 2 times: exercised.");
    await expect
      .poll(() => rows.last().textContent(), { timeout: 10_000 })
      .toContain("The ledger of Test lab was begun");
    await expect
      .poll(() => page.locator(".head-line code").textContent(), { timeout: 10_000 })
      .toBe(entries.at(-1)?.hash);
    await picture(page, "ledger", true);
    await page.getByLabel("Kind of entry").selectOption("specimen-received");
    await eventually(() => rows.count()).toBe(2);
    await page.setViewportSize(tablet);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await picture(page, "ledger-tablet", true);
    await leave();
  });

  it("shows one entry whole, and computes its hash, chain and signature anew", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    await page.getByLabel("Entry 3", { exact: true }).click();
    await page.locator("article h1", { hasText: "Entry 3" }).waitFor();
    const { entries } = await lab.get<LedgerExport>("/api/ledger");
    const text = (await page.locator("article").textContent()) ?? "";
    for (const words of [
      "A-2",
      "dusty",
      entries[2]?.hash,
      entries[1]?.hash,
      "is that of the entry",
      "is the hash of entry 2",
      "was made with the station's key",
    ])
      expect(text).toContain(words);
    // What the page offers for hashing is what was hashed (node:crypto beside the page's own SHA-256).
    await page.locator("summary", { hasText: "As it is hashed" }).first().click();
    const { hash, signature: _, ...content } = entries[2] ?? { hash: "", signature: "" };
    const sorted = Object.fromEntries(Object.entries(content).sort(([a], [b]) => (a < b ? -1 : 1)));
    const stored = (await page.locator(".stored").first().textContent()) ?? "";
    const whole = JSON.stringify({ ...sorted, body: "BODY" }).replace('"BODY"', stored);
    expect(createHash("sha256").update(whole).digest("hex")).toBe(hash);
    await picture(page, "ledger-entry", true);
    await page.getByRole("link", { name: "Entry 2" }).first().click();
    await page.locator("article h1", { hasText: "Entry 2" }).waitFor();
    await leave();
  });

  it("checks the whole ledger, and tells of a head that it does not contain", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    await page.getByRole("button", { name: "Check now" }).click();
    await page.locator(".check-found", { hasText: "Nothing was altered" }).waitFor();
    await page.getByLabel("A head that you kept").fill("abc");
    await page.getByRole("button", { name: "Check now" }).click();
    await page.locator("#check-head-problem", { hasText: "Found 3 characters" }).waitFor();
    await page.getByLabel("A head that you kept").fill("ab".repeat(32));
    await page.getByRole("button", { name: "Check now" }).click();
    await page.locator(".check-found li").first().waitFor();
    await expect
      .poll(() => page.locator(".check-found").textContent(), { timeout: 10_000 })
      .toContain("ab".repeat(32));
    await picture(page, "ledger-check");
    await leave();
  });

  it("keeps the stop in view beside all pages", async () => {
    await startHold();
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    const stop = page.locator(".header-stop button");
    await stop.waitFor();
    await page.locator(".header-lab", { hasText: "Test lab" }).waitFor();
    await picture(page, "ledger-running");
    const box = await stop.boundingBox();
    expect(box !== null && box.x + box.width).toBeLessThanOrEqual(1280);
    await stop.click();
    await eventually(() => lab.get("/api/shots/current")).toBe(null);
    await leave();
  });

  it("checks while current is on without disturbing it", async () => {
    const shot = await startHold();
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    await page.getByRole("button", { name: "Check now" }).click();
    await page.locator(".check-found", { hasText: "Nothing was altered" }).waitFor();
    await expect.poll(() => lab.get("/api/shots/current"), { timeout: 30_000 }).toBe(null);
    const { closed } = await lab.get<ShotView>(`/api/shots/${shot}`);
    expect(closed?.body.lineHealth).toMatchObject({ damaged: 0, missing: 0 });
    expect(closed?.body.reading.outcome).toBe("held");
    await leave();
  }, 60_000);

  /** Begins a test that nothing but its end or a stop ends. */
  async function startHold(): Promise<string> {
    specimens += 1;
    const dead = await lab.receive({ label: `B-${specimens}`, poles: 2, emulatedBreaker: "one-pole-dead" });
    const wish = { specimen: dead.id, limitSet: "ul-489-calibration", multiple: 1.35, loading: "pole-2" };
    return (await lab.post<{ shot: string }>("/api/shots", { ...wish, confirmedSafe: true })).shot;
  }
});
