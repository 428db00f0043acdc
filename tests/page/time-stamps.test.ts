import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { LabView } from "../../src/contract/http.ts";
import type { StampView } from "../../src/contract/ledger-views.ts";
import { TimeStampAuthority } from "../lab/time-stamp-authority.ts";
import { toolIsThere } from "../system/asfound.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";
import { smallTargets } from "./target-sizes.ts";

const withAuthority = toolIsThere("openssl") ? withBrowser : describe.skip;

withAuthority("time stamps on the ledger page", () => {
  const folder = mkdtempSync(join(tmpdir(), "asfound-page-stamps-"));
  let authority: TimeStampAuthority;
  let browser: Browser;
  let lab: SmallLab;
  beforeAll(async () => {
    authority = new TimeStampAuthority(folder);
    browser = await openBrowser();
    lab = await openSmallLab();
    await lab.receive({ label: "A-1" });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const panel = (page: Page) => page.locator("section", { has: page.locator("#stamps-title") });
  const give = async (page: Page, buffer: Uint8Array) => {
    const file = { name: "answer.tsr", mimeType: "application/timestamp-reply", buffer: Buffer.from(buffer) };
    await panel(page).getByLabel("File of the answer").setInputFiles(file);
    await panel(page).getByRole("button", { name: "Keep the answer" }).click();
  };

  it("a request is downloaded, and the authority's answer to it is kept and listed", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    await panel(page).getByText("No time stamp is kept yet").waitFor();
    const { entries } = await lab.get<LabView>("/api/lab");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      panel(page).getByRole("button", { name: "Make a request" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(`ledger-entry-${entries}.tsq`);
    await panel(page).getByText(`ledger-entry-${entries}.tsq is among your downloads`).waitFor();
    const answer = authority.answer(readFileSync(await download.path()));
    await give(page, answer);
    await panel(page).getByText("answer.tsr is kept in the ledger").waitFor();
    const row = panel(page).locator("tbody tr");
    await eventually(() => row.count()).toBe(1);
    const words = (await row.textContent()) ?? "";
    const [kept] = await lab.get<StampView[]>("/api/timestamps");
    for (const part of [
      `Entries to ${entries}`,
      "Invented time stamp authority",
      `Entry ${kept?.sequence}`,
      `serial ${kept?.serial}`,
    ])
      expect(words).toContain(part);
    await picture(page, "ledger-stamps", true);
    await give(page, answer);
    await panel(page).locator(".problem", { hasText: "it is stored already, by entry" }).waitFor();
    await leave();
  });

  it("says in words what is wrong with a file, and keeps nothing", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/ledger`);
    const before = await lab.get<LabView>("/api/lab");
    await panel(page).getByRole("button", { name: "Keep the answer" }).click();
    await panel(page).locator("#stamp-file-problem", { hasText: "Choose the authority's answer" }).waitFor();
    await give(page, Buffer.from("no answer at all"));
    await panel(page).locator(".problem", { hasText: "it is no time stamp response in DER" }).waitFor();
    await give(page, new Uint8Array(0));
    await panel(page).locator("#stamp-file-problem", { hasText: "answer.tsr has 0 bytes" }).waitFor();
    await give(page, new Uint8Array(100_001));
    await panel(page)
      .locator("#stamp-file-problem", { hasText: "has 100001 bytes; accepted are 1 to 100000" })
      .waitFor();
    await give(page, new Uint8Array(100_000));
    await panel(page).locator(".problem", { hasText: "it is no time stamp response in DER" }).waitFor();
    authority.openssl("ts", "-query", "-digest", "ab".repeat(32), "-cert", "-sha256", "-out", "stranger.tsq");
    await give(page, authority.answer(readFileSync(join(folder, "stranger.tsq"))));
    await panel(page).locator(".problem", { hasText: "which is no statement of this ledger" }).waitFor();
    await picture(page, "ledger-stamps-refused", true);
    expect(await lab.get<LabView>("/api/lab")).toEqual(before);
    await page.setViewportSize(tablet);
    await page.waitForTimeout(300);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    expect(await smallTargets(page)).toEqual([]);
    await picture(page, "ledger-stamps-tablet", true);
    await leave();
  });
});
