import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { eventually, openBrowser, openPage, picture, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

const password = "correct horse battery";

withBrowser("sign-in", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimen: string;
  beforeAll(async () => {
    browser = await openBrowser();
    // Slow enough for a test to be running still when somebody signs out.
    lab = await openSmallLab(2);
    specimen = (await lab.receive({ label: "A-1" })).id;
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  async function signIn(page: Page, person: string, tried = password) {
    await page.getByLabel("Full name", { exact: true }).fill(person);
    await page.getByLabel("Password").fill(tried);
    await page.getByRole("button", { name: "Sign in" }).click();
  }
  async function give(page: Page, person: string, ...roles: string[]) {
    const form = page.getByRole("form", { name: "Give a person roles" });
    await form.getByLabel("Full name", { exact: true }).fill(person);
    await form.getByLabel(/^Password|^New password/).fill(password);
    for (const role of ["viewer", "operator", "reviewer", "administrator"])
      await form.getByLabel(new RegExp(`^${role}:`)).setChecked(roles.includes(role));
    await form.getByRole("button", { name: "Give these roles" }).click();
  }

  it("begins with the first person, who is an administrator, and is asked of everybody from then on", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/people`);
    await page.getByText("Nobody has to sign in yet").waitFor();
    await page.getByLabel("Entered by, full name").fill("Ada Rivers");
    await give(page, "Ada Rivers", "operator");
    await page.locator(".field-problem", { hasText: "the first person is an administrator" }).waitFor();
    await give(page, "Ada Rivers", "administrator", "operator");
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    await picture(page, "sign-in");
    await signIn(page, "Ada Rivers", "not the password");
    await page.getByRole("alert").filter({ hasText: "Name or password is not right" }).waitFor();
    await signIn(page, "Ada Rivers");
    await page.getByRole("heading", { name: "People" }).waitFor();
    for (const [person, ...roles] of [
      ["Ben Hollis", "operator"],
      ["Dov Lind", "viewer"],
    ] as const) {
      await give(page, person, ...roles);
      await page.getByRole("rowheader", { name: person }).waitFor();
    }
    await picture(page, "people", true);
    await page.setViewportSize(tablet);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(tablet.width);
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    await leave();
  });

  it("signs what is entered, and asks for no name", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/custody/specimen/${specimen}`);
    await signIn(page, "Ben Hollis");
    await page.getByRole("button", { name: "Record an event" }).click();
    await eventually(() => page.locator(".signed-by").first().textContent()).toBe("Ben Hollis, signed in");
    expect(await page.getByLabel("Entered by, full name").count()).toBe(0);
    await picture(page, "custody-signed-in", true);
    await leave();
  });

  it("lets no viewer start a test, and says which role is missing", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/bench/${specimen}`);
    await signIn(page, "Dov Lind");
    await page.locator(".step-start input[type=checkbox]").check();
    await page.locator(".in-the-way", { hasText: "needs the role operator; you have viewer" }).waitFor();
    expect(await page.getByRole("button", { name: "Start test" }).isDisabled()).toBe(true);
    await leave();
  });

  it("lets anybody stop a test, also one whose session has ended", async () => {
    const { page, leave } = await openPage(browser, `${lab.page}#/bench/${specimen}`);
    await signIn(page, "Ben Hollis");
    await page.locator(".step-start input[type=checkbox]").check();
    await page.getByRole("button", { name: "Start test" }).click();
    await page.locator(".stop-live").first().waitFor();
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    await picture(page, "sign-in-test-running");
    await page.getByRole("button", { name: "Stop test" }).click();
    await page.getByText("Stop was received.").waitFor();
    await signIn(page, "Ben Hollis");
    await page.getByRole("button", { name: "Sign out" }).waitFor();
    await leave();
  });
});
