import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { laptop, openBrowser, openPage, tablet, withBrowser } from "./browser.ts";
import { openSmallLab, type SmallLab } from "./small-lab.ts";

const axe = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

/** What stands in the way of WCAG 2.2 AA on the page as it stands, by axe-core, an independent checker. */
async function obstacles(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: axe });
  const options: RunOptions = {
    runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
  };
  const found = await page.evaluate(
    (run) => (window as unknown as { axe: { run(o: RunOptions): Promise<AxeResults> } }).axe.run(run),
    options,
  );
  expect(found.passes.length).toBeGreaterThan(5);
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.html.slice(0, 120)}: ${node.failureSummary?.replaceAll(/\s+/g, " ")}`),
  );
}

withBrowser("every page", () => {
  let browser: Browser;
  let lab: SmallLab;
  let specimen: string;
  let shot: string;
  beforeAll(async () => {
    browser = await openBrowser();
    lab = await openSmallLab();
    specimen = (await lab.receive({ label: "ML-01", job: "Mill Lane 3" })).id;
    await lab.post("/api/custody", {
      about: { kind: "specimen", id: specimen },
      ...{
        event: "receipt",
        from: "the owner",
        to: "store",
        observedAt: "2025-03-14T10:00:00Z",
        by: "J. D.",
      },
    });
    await lab.shoot(specimen, 2);
    shot = (await lab.get<{ id: string }[]>("/api/shots"))[0]?.id ?? "";
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await lab.close();
  });

  it.each([laptop, tablet])(
    "is within WCAG 2.2 AA at $width x $height",
    async (viewport) => {
      const { page, leave } = await openPage(browser, lab.page, viewport);
      await page.locator("nav a.page-link").first().waitFor();
      const places = [
        ...(await page
          .locator("nav a.page-link")
          .evaluateAll((links) => links.map((one) => one.getAttribute("href")?.slice(2) ?? ""))),
        ...[`bench/${specimen}`, `specimens/${specimen}`, `record/${shot}`, "jobs/Mill%20Lane%203"],
        ...[`custody/specimen/${specimen}`, "limits/sets/ul-489-calibration", "limits/policy", "ledger/3"],
      ];
      const found: Record<string, string[]> = {};
      for (const place of places) {
        await page.goto(`${lab.page}#/${place}`);
        await page.locator("main h1, main h2").first().waitFor();
        // What the page still fetches would not be looked at.
        await page.waitForTimeout(600);
        const list = await obstacles(page);
        if (list.length > 0) found[place] = list;
      }
      expect(places.length).toBeGreaterThan(18);
      await page.evaluate(() => document.querySelector("main")?.append(document.createElement("img")));
      expect((await obstacles(page)).join()).toContain("image-alt");
      expect(found).toEqual({});
      await leave();
    },
    240_000,
  );
});
