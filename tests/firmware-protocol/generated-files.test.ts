import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { messagesJson, specificationParts } from "../../firmware-protocol/describe-messages.ts";

const folder = join(import.meta.dirname, "../../firmware-protocol");
const update = process.env.UPDATE_GENERATED === "1";

/** The document with every part between its marks as it is generated now. */
function withParts(document: string): string {
  return document.replace(
    /(<!-- generated: ([a-z ]+) -->\n)[\s\S]*?(<!-- end -->)/g,
    (_, begin: string, name: string, end: string) => {
      const part = specificationParts()[name];
      if (part === undefined)
        throw new Error(`SPECIFICATION.md wants a part "${name}", which is not generated`);
      return `${begin}\n${part}\n\n${end}`;
    },
  );
}

// UPDATE_GENERATED=1 npx vitest run tests/firmware-protocol/generated-files.test.ts writes both files anew.
describe("generated files are as their source says", () => {
  it("messages.json", () => {
    const path = join(folder, "messages.json");
    if (update) writeFileSync(path, messagesJson());
    expect(readFileSync(path, "utf8")).toBe(messagesJson());
  });

  it("the tables of SPECIFICATION.md", () => {
    const path = join(folder, "SPECIFICATION.md");
    const document = readFileSync(path, "utf8");
    if (update) writeFileSync(path, withParts(document));
    expect(readFileSync(path, "utf8")).toBe(withParts(document));
  });

  it("every part that is generated has its place in SPECIFICATION.md", () => {
    const document = readFileSync(join(folder, "SPECIFICATION.md"), "utf8");
    const places = [...document.matchAll(/<!-- generated: ([a-z ]+) -->/g)].map((match) => match[1]);
    expect(places.sort()).toEqual(Object.keys(specificationParts()).sort());
  });

  it("a change between the marks would be found", () => {
    const changed = withParts("<!-- generated: states -->\nanything\n<!-- end -->");
    expect(changed).toMatch(/\| safe +\|/);
    expect(changed).not.toContain("anything");
  });
});
