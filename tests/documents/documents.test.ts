import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { shotTransitionsMarkdown } from "../../src/bench/shot-transitions.ts";

const root = resolve(import.meta.dirname, "../..");
const read = (path: string) => readFileSync(join(root, path), "utf8");
const pages = ["README.md", "DEVELOPERS.md", "firmware-protocol/SPECIFICATION.md"];

describe("the documents", () => {
  it("DEVELOPERS.md shows the table that drives the shot (UPDATE_GENERATED=1 rewrites it)", () => {
    const [from, to] = ["<!-- shot-transitions -->", "<!-- /shot-transitions -->"];
    const text = read("DEVELOPERS.md");
    const start = text.indexOf(from) + from.length;
    const end = text.indexOf(to);
    const wanted = `\n\n${shotTransitionsMarkdown().trim()}\n\n`;
    if (process.env.UPDATE_GENERATED === "1") {
      writeFileSync(join(root, "DEVELOPERS.md"), text.slice(0, start) + wanted + text.slice(end));
      return;
    }
    expect(text.slice(start, end)).toBe(wanted);
  });

  it.each(pages)("every link of %s leads somewhere", (page) => {
    const text = read(page);
    const anchors = new Set(
      [...text.matchAll(/^#+ (.+)$/gm)].map((match) =>
        (match[1] ?? "")
          .toLowerCase()
          .replace(/[^\p{L}\p{N} -]/gu, "")
          .replaceAll(" ", "-"),
      ),
    );
    for (const [, target = ""] of text.matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^https?:/.test(target)) continue;
      if (target.startsWith("#")) expect(anchors, `${page} links to ${target}`).toContain(target.slice(1));
      else expect(existsSync(join(root, dirname(page), target)), `${page} links to ${target}`).toBe(true);
    }
  });

  it("README.md names only commands that the program has", () => {
    const program = read("src/cli/asfound.ts");
    const named = [...read("README.md").matchAll(/npx asfound ([a-z][a-z-]*)/g)].map((match) => match[1]);
    expect(named.length).toBeGreaterThan(5);
    for (const name of named)
      expect(program, `${name} in src/cli/asfound.ts`).toMatch(new RegExp(`(^|\\W)"?${name}"?: async`));
  });

  it("every npm script that the documents name is there", () => {
    const { scripts } = JSON.parse(read("package.json")) as { scripts: Record<string, string> };
    for (const page of pages.slice(0, 2))
      for (const [, name = ""] of read(page).matchAll(
        /npm (?:run )?(start|test|bench|types|lint|format|build)\b/g,
      ))
        expect(Object.keys(scripts), `${page} names npm ${name}`).toContain(name);
  });
});
