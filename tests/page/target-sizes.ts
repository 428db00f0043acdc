import type { Page } from "playwright-core";

/**
 * What a finger is to hit and is lower or narrower than 44 px, each with its words and size. A link within a sentence is no such
 * target (WCAG 2.2, 2.5.8, inline), nor is a box whose label is pressed in its stead.
 */
export const smallTargets = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLElement>(
        "main a, main button, main input, main select, main summary, dialog button",
      ),
    ]
      .filter((one) => !(one instanceof HTMLInputElement && one.type === "checkbox"))
      .filter((one) => one.tagName !== "A" || getComputedStyle(one).display !== "inline")
      .flatMap((one) => {
        const { width, height } = one.getBoundingClientRect();
        const isSmall = height > 0 && (height < 43.5 || width < 43.5);
        return isSmall ? [`${one.tagName} ${one.textContent}: ${width} x ${height}`] : [];
      }),
  );
