import { existsSync, mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { describe, expect } from "vitest";
import type { FrameDelay } from "../../web/live/frame-loop.ts";
import { toolIsThere } from "../system/asfound.ts";

const root = resolve(import.meta.dirname, "../..");
const screenshots = join(root, "dist/screenshots");

/** A suite that needs a browser; without one it is skipped loudly, or fails where nothing may be skipped. */
export const withBrowser = describe.skipIf(!toolIsThere("chromium"));

/** Starts the browser of this machine. The page must have been built. */
export async function openBrowser(): Promise<Browser> {
  if (!existsSync(join(root, "dist/page/index.html")))
    throw new Error("dist/page is empty; build the page first: npm run build:page");
  mkdirSync(screenshots, { recursive: true });
  const executablePath = ["/usr/bin/chromium", "/usr/local/bin/chromium"].find((path) => existsSync(path));
  return chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

/** A bench laptop, and a tablet held upright. */
export const laptop = { width: 1280, height: 800 };
export const tablet = { width: 820, height: 1180 };

/** Opens a page, and on leaving it checks that no script of it threw and none wrote an error to the console. */
export async function openPage(
  browser: Browser,
  url: string,
  viewport = laptop,
): Promise<{ page: Page; leave: () => Promise<void> }> {
  const page = await browser.newPage({ viewport });
  const errors: string[] = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    // What the network refused is told by the browser itself, and the page has words for it.
    if (message.type() === "error" && !message.text().startsWith("Failed to load resource"))
      errors.push(message.text());
  });
  await page.goto(url);
  const leave = async () => {
    await page.close();
    expect(errors).toEqual([]);
  };
  return { page, leave };
}

/** Expects of a value that is still on its way; slow machines get the time they need. */
export const eventually = <T>(read: () => T | Promise<T>) => expect.poll(read, { timeout: 15_000 });

/** The frames that the page counted between message and picture. */
export const frameDelay = (page: Page): Promise<FrameDelay> =>
  page.evaluate(() => (window as unknown as { __delay: FrameDelay }).__delay);

/** Leaves a picture of what stands on the screen, for people to look at. */
export async function picture(page: Page, name: string, fullPage = false): Promise<void> {
  await page.screenshot({ path: join(screenshots, `${name}.png`), fullPage });
}
