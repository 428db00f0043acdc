import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenView } from "../../src/contract/http.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

withBrowser("specimens page", () => {
  let browser: Browser;
  let lab: SmallLab;
  let twoPole: SpecimenView;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    twoPole = await lab.receive({
      label: "B-2",
      poles: 2,
      volts: 240,
      job: "Hill Road 1",
      panel: "kitchen",
      madeYear: 1974,
      condition: "dusty",
      emulatedBreaker: "one-pole-dead",
    });
    await lab.receive({ label: "A-1", job: "Mill Lane 3", emulatedBreaker: "sound" });
    await lab.shoot(twoPole.id, 2, "pole-1");
    await lab.shoot(twoPole.id, 2, "pole-2");
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("lists the specimens, finds one by its job and opens it with the keyboard", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/specimens`);
    await eventually(() => page.locator(".shots tbody tr").count()).toBe(2);
    await page.getByLabel("Search by label").fill("hill");
    await eventually(() => page.locator(".shots tbody tr").count()).toBe(1);
    await expect
      .poll(() => page.locator(".shots tbody tr").textContent(), { timeout: 10_000 })
      .toContain("kitchen");
    await picture(page, "specimens", true);
    await page.getByRole("button", { name: "As found" }).click();
    await expect
      .poll(() => page.locator(".empty").textContent(), { timeout: 10_000 })
      .toBe("No specimen matches.");
    await page.getByRole("button", { name: "All (1)" }).click();
    await page.locator(".shots tbody a").focus();
    await page.keyboard.press("Enter");
    await page.locator("article h1", { hasText: "B-2" }).waitFor();
    await leave();
  });

  it("shows results as found and exercised apart, the figure, the model and where the specimen came from", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/specimens/${twoPole.id}`);
    const asFound = page.locator(".matrix-part", { hasText: "As found" });
    const exercised = page.locator(".matrix-part", { hasText: "Exercised" });
    await asFound.waitFor();
    expect(await asFound.locator(".result").allTextContents()).toEqual(["Pass"]);
    expect(await exercised.locator(".result").allTextContents()).toEqual(["Fail"]);
    await expect
      .poll(() => asFound.locator(".matrix-cell strong").textContent(), { timeout: 10_000 })
      .toMatch(/^[\d.]+ ± [\d.]+ s$/);
    await expect
      .poll(() => asFound.locator(".matrix-cell").textContent(), { timeout: 10_000 })
      .toMatch(/limit 120 s, margin \+.*k = 2/);
    await expect
      .poll(() => exercised.locator(".matrix-cell strong").textContent(), { timeout: 10_000 })
      .toMatch(/^> 2 min/);
    const figure = page.locator(".figure img");
    await figure.waitFor();
    await eventually(() => figure.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(
      100,
    );
    expect(await figure.getAttribute("alt")).toContain("B-2");
    await page.getByText("Too few shots tripped").first().waitFor();
    await expect
      .poll(() => page.locator(".facts").textContent(), { timeout: 10_000 })
      .toContain("Condition as receiveddusty");
    await picture(page, "specimen", true);
    await page.setViewportSize(tablet);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await picture(page, "specimen-tablet", true);
    await leave();
  });

  it("locks a programme only with a reason once current has flowed, and then shows its steps", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/specimens/${twoPole.id}`);
    await page.locator("#lock-programme").selectOption("as-found first");
    await page.getByLabel("Decision rule").selectOption("guard");
    await page.getByRole("button", { name: "Lock the programme" }).click();
    await page.locator(".form .problem").waitFor();
    await page.getByLabel("Reason").fill("received after its first tests");
    await page.getByLabel("Guard band over").fill("none");
    await page.getByRole("button", { name: "Lock the programme" }).click();
    await expect
      .poll(() => page.locator("#lock-r-problem").textContent(), { timeout: 10_000 })
      .toContain('Found "none"');
    await page.getByLabel("Guard band over").fill("1");
    await page.getByRole("button", { name: "Lock the programme" }).click();
    await page.locator(".plan-steps").waitFor();
    const panel = (await page.locator("section", { has: page.locator(".plan-steps") }).textContent()) ?? "";
    expect(panel).toContain("guard band (1 times the expanded uncertainty)");
    expect(panel).toContain("after current had flowed");
    expect(panel).toContain("received after its first tests");
    expect(await page.locator(".plan-next").count()).toBe(1);
    await leave();
  });

  it("writes down that the handle was moved", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/specimens/${twoPole.id}`);
    await page.locator("summary", { hasText: "Handle moved" }).click();
    await page.getByLabel("Operations").fill("5");
    await page.getByLabel("Why, and by whom").fill("exercised, J. D.");
    await page.getByRole("button", { name: "Write it down" }).click();
    await eventually(() => page.locator(".shot-head").textContent()).toMatch(/operated [6-9] times/);
    await leave();
  });
});
