import { join, resolve } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { SpecimenView } from "../../src/contract/http.ts";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

/** A picture that the other tests of the page have left, or the first that this one takes. */
const png = join(resolve(import.meta.dirname, "../.."), "dist/screenshots/custody-choose.png");

withBrowser("custody page", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimen: SpecimenView;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    specimen = await lab.receive({ label: "ML-01", job: "Mill Lane 3" });
    const event = (kind: string, from: string, to: string, day: string, more: object = {}) =>
      lab.post("/api/custody", {
        about: { kind: "specimen", id: specimen.id },
        ...{ event: kind, from, to, observedAt: `2025-03-${day}T10:00:00Z`, by: "J. D." },
        ...more,
      });
    await event("receipt", "the owner", "J. D.", "14", {
      seals: [{ number: "S-100", condition: "applied" }],
      condition: "in a bag",
    });
    await event("transfer", "J. D.", "store room", "15");
    await event("transfer", "a courier", "Test lab", "18");
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it("draws the chain with its gap pointed out, and records the next event from who has it", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody`);
    await page.locator(".subject-list button").first().waitFor();
    await picture(page, "custody-choose");
    await page.keyboard.type("ML-01");
    await page.keyboard.press("Enter");
    await eventually(() => page.locator(".timeline-event").count()).toBe(3);
    await expect
      .poll(() => page.locator(".timeline-gap").textContent(), { timeout: 10_000 })
      .toContain("store room");
    expect(await page.locator(".timeline-gap").count()).toBe(1);
    await page.getByRole("button", { name: "Record an event" }).click();
    expect(await page.getByLabel("From", { exact: true }).inputValue()).toBe("Test lab");
    await page.getByLabel("What happened").selectOption("opening");
    await page.getByLabel("To", { exact: true }).fill("Test lab");
    await page.getByLabel("Condition", { exact: true }).selectOption("broken");
    await page.getByLabel("Number: scan").fill("S-100");
    await page.keyboard.press("Enter");
    await page.getByRole("button", { name: "Take seal S-100" }).waitFor();
    await page.locator("#custody-by").fill("R. M.");
    await picture(page, "custody-form", true);
    await page.getByRole("button", { name: "Record the event" }).click();
    await eventually(() => page.locator(".timeline-event").count()).toBe(4);
    await expect
      .poll(() => page.locator(".timeline-event").last().textContent(), { timeout: 10_000 })
      .toContain("Seals: S-100 broken");
    await leave();
  });

  it("keeps a photograph under its hash, and refuses a file that is no picture", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    await page.locator("summary", { hasText: "Add photographs" }).click();
    await page.locator("#photograph-by").fill("R. M.");
    await page.getByLabel("Files, PNG").setInputFiles({
      ...{ name: "not-a-picture.png", mimeType: "image/png", buffer: Buffer.from("no picture") },
    });
    await page.getByRole("button", { name: "Keep the photographs" }).click();
    await page.locator(".problem", { hasText: "is not a picture" }).waitFor();
    await page.getByLabel("Files, PNG").setInputFiles(png);
    await page.getByRole("button", { name: "Keep the photographs" }).click();
    const image = page.locator(".photographs img");
    await image.waitFor();
    await eventually(() => image.evaluate((one: HTMLImageElement) => one.naturalWidth)).toBeGreaterThan(100);
    await image.click();
    await expect
      .poll(() => page.locator("dialog .hash").textContent(), { timeout: 10_000 })
      .toMatch(/^[0-9a-f]{64}$/);
    await leave();
  });

  it("says what is missing before the first current, and takes it down", async () => {
    const demanded = { checks: "demanded", authority: "demanded" };
    const policy = await lab.get<{ gate: object }>("/api/policy");
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    const gate = page.locator("section", { has: page.locator("#gate-title") });
    await gate.getByText("Nothing that the lab demands is missing").waitFor();
    await page.evaluate(
      (body) =>
        fetch("/api/policy", { method: "PUT", headers: { "content-type": "application/json" }, body }),
      JSON.stringify({ ...policy, gate: { ...policy.gate, ...demanded } }),
    );
    await gate.getByText("No current yet").waitFor();
    await gate.getByRole("button", { name: "Write down what is in place" }).click();
    await gate.locator("#gate-check-0-found").fill("off");
    await gate.getByRole("button", { name: "Write it down" }).click();
    await gate.locator("#gate-by-problem").waitFor();
    await gate.locator("#gate-by").fill("R. M.");
    await gate.getByRole("button", { name: "Write it down" }).click();
    await gate.locator(".problem", { hasText: "still missing" }).waitFor();
    await gate.getByLabel("Authority to proceed", { exact: true }).fill("the owner is on the way");
    await picture(page, "custody-gate", true);
    await gate.getByRole("button", { name: "Write it down" }).click();
    await gate.getByText("Nothing that the lab demands is missing").waitFor();
    const words = (await gate.locator("table").textContent()) ?? "";
    expect(words).toContain("Handle position, without moving it: off");
    expect(words).toContain("the owner is on the way");
    await leave();
  });

  it("corrects a field with a reason and keeps what was written first", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    await page.getByRole("button", { name: "Correct what was received" }).click();
    await page.getByLabel("Field", { exact: true }).selectOption("/details/ratedAmps");
    expect(await page.getByLabel("Right value").inputValue()).toBe("20");
    await page.getByLabel("Right value").fill("25");
    await page.getByRole("button", { name: "Amend", exact: true }).click();
    await page.locator(".field-problem").first().waitFor();
    await page.locator("#amend-2-by").fill("R. M.");
    await page.getByLabel("Why it is corrected").fill("read again under a lamp");
    await page.getByRole("button", { name: "Amend", exact: true }).click();
    await page.locator("li", { hasText: "rated amps: 20 → 25. read again under a lamp" }).waitFor();
    await eventually(
      async () => (await lab.get<SpecimenView>(`/api/specimens/${specimen.id}`)).details.ratedAmps,
    ).toBe(25);
    await picture(page, "custody-amended", true);
    await leave();
  });

  it("is reviewed and released by a second person only", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen.id}`);
    const review = page.locator("section", { has: page.locator("#review-title") });
    await review.locator("summary", { hasText: "Review it" }).click();
    await review.locator("#review-by").fill("J. D.");
    await review.getByRole("button", { name: "Write down the review" }).click();
    await review.locator("#review-by-problem", { hasText: "second person" }).waitFor();
    await review.locator("#review-by").fill("A. B.");
    await review.getByRole("button", { name: "Write down the review" }).click();
    await review.locator(".standing", { hasText: "Reviewed" }).waitFor();
    await review.getByRole("button", { name: "Release issue 1" }).click();
    await review.locator(".standing", { hasText: "Released" }).waitFor();
    await page.setViewportSize(tablet);
    await page.waitForTimeout(300);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await picture(page, "custody-tablet", true);
    await leave();
  });
});
