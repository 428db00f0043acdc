import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { PhotographView } from "../../src/contract/photograph-schema.ts";
import { eventually, laptop, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";
import { smallTargets } from "./target-sizes.ts";

withBrowser("photographs of a specimen", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimen: SpecimenView;
  let kept: PhotographView;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    specimen = await lab.receive({ label: "ML-01" });
    const { page, leave } = await openPage(browser, `${lab.page}#/jobs`);
    await page.locator("h1").waitFor();
    const image = await page.screenshot();
    await leave();
    const told = new URLSearchParams({
      ...{ kind: "specimen", id: specimen.id, name: "front.png", shows: "marking" },
      ...{ takenAt: "2025-03-14T10:00:00Z", note: "label under the handle", by: "J. D." },
    });
    const answer = await fetch(new URL(`/api/photographs?${told}`, lab.page), {
      method: "POST",
      headers: { "content-type": "application/octet-stream" },
      body: new Uint8Array(image),
    });
    kept = (await answer.json()) as PhotographView;
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("stand small in the list, and Enter shows one large with all that is told of it; Escape closes", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    const thumbnail = page.getByRole("button", { name: "Photograph front.png, shows: marking" });
    await thumbnail.waitFor();
    const image = thumbnail.locator("img");
    await image.scrollIntoViewIfNeeded();
    await eventually(() => image.evaluate((one: HTMLImageElement) => one.naturalWidth)).toBe(laptop.width);
    expect(await image.getAttribute("loading")).toBe("lazy");
    await picture(page, "photographs-list", true);
    await thumbnail.focus();
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog", { name: "front.png" });
    await dialog.waitFor();
    const words = (await dialog.textContent()) ?? "";
    const year = new Date("2025-03-14T10:00:00Z").getFullYear();
    for (const part of [kept.record.photograph, "label under the handle", "by J. D.", `${year}`])
      expect(words).toContain(part);
    expect(await dialog.locator("dt", { hasText: "Taken" }).locator("+ dd").textContent()).not.toBe(
      "not told",
    );
    const large = await dialog.locator("img").boundingBox();
    const small = await image.boundingBox();
    expect(large?.width).toBeGreaterThan(3 * (small?.width ?? Number.POSITIVE_INFINITY));
    await picture(page, "photograph-large");
    await page.keyboard.press("Escape");
    await eventually(() => page.locator("dialog").count()).toBe(0);
    // The focus is where it was.
    expect(await thumbnail.evaluate((one) => one === document.activeElement)).toBe(true);
    await thumbnail.click();
    await dialog.getByRole("button", { name: "Close" }).click();
    await eventually(() => page.locator("dialog").count()).toBe(0);
    await leave();
  });

  it("fit a tablet, large as small", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`, tablet);
    await page.locator(".thumbnail").click();
    await page.locator("dialog").waitFor();
    expect(await smallTargets(page)).toEqual([]);
    const isWide = (one: Element) => one.scrollWidth > one.clientWidth;
    expect(await page.locator("dialog").evaluate(isWide)).toBe(false);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await picture(page, "photograph-large-tablet");
    await leave();
  });

  it("leave the stop within reach while a test runs", async () => {
    const dead = await lab.receive({ label: "B-1", poles: 2, emulatedBreaker: "one-pole-dead" });
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    await page.locator(".thumbnail").click();
    await lab.post("/api/shots", {
      ...{ specimen: dead.id, limitSet: "ul-489-calibration", multiple: 1.35, loading: "pole-2" },
      confirmedSafe: true,
    });
    const stop = page.locator("dialog").getByRole("button", { name: "Stop test" });
    await stop.waitFor();
    await picture(page, "photograph-running");
    await stop.click();
    await eventually(() => lab.get("/api/shots/current")).toBe(null);
    await leave();
  });
});
