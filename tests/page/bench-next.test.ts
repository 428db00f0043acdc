import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { NextStepView, NextView } from "../../src/contract/programme.ts";
import { eventually, openBrowser, openPage, picture, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("next steps on the bench", () => {
  let browser: Browser;
  let lab: SmallLab;
  let first: SpecimenView;
  let second: SpecimenView;
  const lock = (specimen: SpecimenView, programme: string, limitSet = "ul-489-calibration") =>
    lab.post(`/api/specimens/${specimen.id}/programme`, {
      programme,
      limitSet,
      rule: { kind: "guard", r: 1 },
    });
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    first = await lab.receive({ label: "A-1", poles: 2, emulatedBreaker: "sound" });
    second = await lab.receive({ label: "B-2", poles: 2, emulatedBreaker: "sound" });
    await lock(first, "as-found first");
    await lock(second, "as-found first");
    await lab.shoot(first.id, 2, "pole-1");
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("offers what may go now before what still cools, with its time running down", async () => {
    const { page, leave } = await openPage(browser, lab.page);
    // The emulated rig lets a specimen rest before each shot, so that nothing ever waits on it: the wait is put in here.
    await page.route("**/api/next", async (route) => {
      const view = (await (await route.fetch()).json()) as NextView;
      const waits = (one: NextStepView): NextStepView =>
        one.specimen !== first.id || one.coldness === null
          ? one
          : {
              ...one,
              allowed: false,
              words: "Cools for 95 s more.",
              waitSeconds: 95,
              coldness: { ...one.coldness, verdict: "not cold" },
            };
      const specimens = view.specimens.map(waits).sort((a, b) => a.waitSeconds - b.waitSeconds);
      await route.fulfill({ json: { ...view, specimens } });
    });
    await page.goto(`${lab.page}#/bench/${first.id}`);
    await page.reload();
    await page.getByRole("button", { name: "Next steps (2)" }).click();
    const rows = page.locator(".chooser .next-row");
    await eventually(() => rows.count()).toBe(2);
    expect(await rows.locator("strong").allTextContents()).toEqual(["B-2", "A-1"]);
    await expect
      .poll(() => rows.nth(0).locator(".next-timer").textContent(), { timeout: 10_000 })
      .toBe("now");
    const left = await rows.nth(1).locator(".next-timer").textContent();
    expect(left).toMatch(/\d/);
    await eventually(() => rows.nth(1).locator(".next-timer").textContent()).not.toBe(left);
    const locked = (await page.locator(".locked").textContent()) ?? "";
    expect(locked).toContain("as-found first, 1 of");
    expect(locked).toContain("guard band (1 times the expanded uncertainty)");
    expect(locked).toContain("Not cold.");
    await picture(page, "bench-next");
    await rows.nth(0).focus();
    await page.keyboard.press("Enter");
    await page.locator(".specimen-head h2", { hasText: "B-2" }).waitFor();
    // The step that the programme asks for is the one that the bench has chosen.
    await expect
      .poll(() => page.locator(".steps [aria-pressed='true']").textContent(), { timeout: 10_000 })
      .toContain("pole 1 alone");
    await leave();
  });
});
