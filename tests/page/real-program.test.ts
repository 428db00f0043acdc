import type { ChildProcess } from "node:child_process";
import type { Browser } from "playwright-core";
import { afterEach, beforeEach, expect, it } from "vitest";
import { asfound, firstDocument, startAsfound, workplace } from "../system/asfound.ts";
import { eventually, frameDelay, openBrowser, openPage, picture, withBrowser } from "./browser.ts";

withBrowser("the page on the real program", () => {
  let place: ReturnType<typeof workplace>;
  let browser: Browser;
  let program: ChildProcess | null = null;
  beforeEach(async () => {
    place = workplace();
    browser = await openBrowser();
  });
  afterEach(async () => {
    await browser.close();
    await end();
    place.remove();
  });

  async function start(): Promise<string> {
    program = startAsfound([
      ...["start", "--data", place.data, "--empty", "--lab", "Test lab", "--port", "0", "--json"],
      ...["--link", "emulated?speed=20&seed=5"],
    ]);
    return (await firstDocument(program)).page;
  }

  async function end() {
    const ending = program;
    program = null;
    if (ending === null || ending.exitCode !== null) return;
    await new Promise((resume) => {
      ending.once("exit", resume);
      ending.kill("SIGTERM");
    });
  }

  it("receives a breaker, drives current through it, shows the trip and the verdict, and finds it after a restart", async () => {
    const first = await openPage(browser, await start());
    const { page } = first;
    await page.getByRole("button", { name: "Receive a specimen" }).click();
    await page.getByLabel("Label", { exact: true }).fill("A-1");
    await page.getByLabel("Rated current").fill("20");
    await page.getByLabel("Poles", { exact: true }).selectOption("1");
    await page.getByLabel("Rated voltage").fill("120");
    await page.getByLabel("Emulated breaker that plays it").selectOption("sound");
    await page.getByRole("button", { name: "Receive", exact: true }).click();
    await page.locator(".steps button", { hasText: "200 %" }).click();
    await page.getByLabel("I have read the cautions").check();
    await eventually(() => page.getByRole("button", { name: "Start test" }).isEnabled()).toBe(true);
    await page.getByRole("button", { name: "Start test" }).click();
    await page.locator(".run-state", { hasText: "waiting for the breaker to open" }).waitFor();
    await eventually(() => page.locator(".elapsed output").textContent()).toMatch(/^([1-9]|.*min)/);
    await picture(page, "real-running");
    await page.locator(".ended").waitFor({ timeout: 60_000 });
    await expect
      .poll(() => page.locator(".ended .result-large").textContent(), { timeout: 10_000 })
      .toBe("Pass");
    const outcome = (await page.locator(".ended-outcome").textContent()) ?? "";
    expect(outcome).toMatch(/A-1 tripped after [\d.]+ s/);
    await page.waitForTimeout(500);
    await picture(page, "real-pass");
    // A real run sends many messages; each must have been drawn in one of the next two frames.
    const delay = await frameDelay(page);
    expect(delay.fromArrival.length).toBeGreaterThan(20);
    expect(Math.max(...delay.fromArrival)).toBeLessThanOrEqual(2);
    await first.leave();
    await end();

    const second = await openPage(browser, `${await start()}#/record`);
    await eventually(() => second.page.locator(".shots tbody tr").count()).toBe(1);
    const row = (await second.page.locator(".shots tbody tr").textContent()) ?? "";
    expect(row).toContain("Pass");
    expect(row).toContain("as found");
    expect(row).toContain(outcome.match(/[\d.]+ s/)?.[0] ?? "no time");
    await second.page.locator(".shots tbody a").click();
    await second.page.locator(".shot-charts .uplot").nth(1).waitFor();
    await second.page.waitForTimeout(300);
    await picture(second.page, "real-record", true);
    await expect
      .poll(() => second.page.locator("article").textContent(), { timeout: 10_000 })
      .toContain("Where each number comes from");
    await second.leave();
    await end();
    const verified = await asfound(["verify", "--data", place.data, "--json"]);
    expect(verified.document).toMatchObject({ ok: true, problems: [] });
  }, 120_000);
});
