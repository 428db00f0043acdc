import { describe, expect, it } from "vitest";
import { bagProblems, makeBag, type PackageFiles, sha256OfBytes } from "../../src/exchange/bag.ts";

const bytes = (text: string): Uint8Array => Buffer.from(text, "utf8");
const hello = (): PackageFiles => makeBag(new Map([["hello.txt", bytes("hello\n")]]), []);

describe("a bag", () => {
  // Hashes computed with sha256sum over the layout of RFC 8493, sections 2.1 and 2.2.
  it("has the bytes that the layout of RFC 8493 demands", () => {
    const files = hello();
    const text = (path: string) => Buffer.from(files.get(path) ?? []).toString();
    expect(text("manifest-sha256.txt")).toBe(
      "5891b5b522d5df086d0ff0b110fbd9d21bb4fc7163af34d08286a2e846f6be03  data/hello.txt\n",
    );
    expect(text("bag-info.txt")).toBe("Payload-Oxum: 6.1\n");
    expect(text("tagmanifest-sha256.txt")).toBe(
      [
        "5846bc95a357a24f79e53d52f8f0e9d184741c706aec4c6e1bab65d66807283d  bag-info.txt\n",
        "1712ecfb074bf29c4188ad3421032509159a09739fd604f8fe57038b4ddefcc9  bagit.txt\n",
        "c8ab910147fffd06fa3433a6a183d2826b0e7561edce79d249371c45b85708f9  manifest-sha256.txt\n",
      ].join(""),
    );
  });

  it("has no problems as it was made", () => {
    expect(bagProblems(hello())).toEqual([]);
  });

  it("is found changed wherever one bit of any file is flipped", () => {
    for (const [path, original] of hello())
      for (let at = 0; at < original.length; at += 1) {
        const files = hello();
        const changed = Uint8Array.from(original);
        changed[at] = (changed[at] ?? 0) ^ 1;
        files.set(path, changed);
        expect(bagProblems(files), `${path} at ${at}`).not.toEqual([]);
      }
  });

  it.each<[string, (files: PackageFiles) => void, string]>([
    ["a missing file", (files) => files.delete("data/hello.txt"), "data/hello.txt is listed in manifest"],
    ["a new file", (files) => files.set("data/new.txt", bytes("x")), "data/new.txt is there but not listed"],
    ["a new tag file", (files) => files.set("readme.txt", bytes("x")), "readme.txt does not belong"],
    ["a fetch.txt", (files) => files.set("fetch.txt", bytes("x")), "fetches none"],
    ["a missing manifest", (files) => files.delete("manifest-sha256.txt"), "manifest-sha256.txt is missing"],
    ["a path that leaves the folder", (files) => files.set("data/../x", bytes("x")), "leaves its folder"],
    [
      "an altered file with its manifest made anew",
      (files) => {
        files.set("data/hello.txt", bytes("hallo\n"));
        files.set("manifest-sha256.txt", bytes(`${sha256OfBytes(bytes("hallo\n"))}  data/hello.txt\n`));
      },
      "manifest-sha256.txt was altered",
    ],
  ])("names %s", (_what, change, words) => {
    const files = hello();
    change(files);
    expect(bagProblems(files).join("\n")).toContain(words);
  });

  it("refuses what would break its own lines", () => {
    expect(() => makeBag(new Map([["a\nb", bytes("")]]), [])).toThrow("control character");
    expect(() => makeBag(new Map(), [["Contact", "a\nPayload-Oxum: 0.0"]])).toThrow("cannot hold");
  });
});
