import type { ChildProcess } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { verifyPackage } from "../../src/lab/verify-package.ts";
import { asfound, finished, firstDocument, startAsfound, workplace } from "./asfound.ts";

const specimen = { label: "W-1", ratedAmps: 20, poles: 1, volts: 120, job: "Mill Lane" };
const place = workplace(specimen);
let program: ChildProcess;
let page: string;
let id: string;

beforeAll(async () => {
  const link = "emulated?breaker=sound&speed=5000&seed=3";
  const shot = await asfound([
    ...["shoot", "--link", link, "--data", place.data, "--specimen", place.specimenFile, "--point", "2"],
    "--json",
  ]);
  expect(shot.code).toBe(0);
  program = startAsfound([
    "start",
    "--data",
    place.data,
    "--link",
    link,
    "--port",
    "0",
    "--no-open",
    "--json",
  ]);
  ({ page } = await firstDocument(program));
  const [first] = (await (await get("specimens")).json()) as { id: string }[];
  id = first?.id ?? "";
}, 60_000);
afterAll(async () => {
  program.kill("SIGTERM");
  expect((await finished(program)).code).toBe(0);
  place.remove();
});

const get = (path: string) => fetch(`${page}api/${path}`);
const bytesAt = async (path: string): Promise<Buffer> => {
  const answer = await get(path);
  expect([path, answer.status]).toEqual([path, 200]);
  return Buffer.from(await answer.arrayBuffer());
};

describe("the server's thread for documents", { timeout: 60_000 }, () => {
  it("makes every document, and a package that holds, and enters nothing", async () => {
    const { head } = (await (await get("ledger")).json()) as { head: string };
    for (const path of [
      `exhibit.pdf?specimen=${id}`,
      `letter.pdf?specimen=${id}`,
      "labels.pdf",
      "exhibit-rates.pdf?point=2",
    ])
      expect((await bytesAt(path)).subarray(0, 5).toString()).toBe("%PDF-");
    for (const publish of [false, true]) {
      const zip = join(place.folder, `${publish}.zip`);
      writeFileSync(zip, await bytesAt(`package.zip?specimen=${id}&publish=${publish}`));
      expect(verifyPackage(zip)).toMatchObject({ ok: true, problems: [], published: publish });
    }
    expect(await (await get("ledger")).json()).toMatchObject({ head });
  });

  it("checks the ledger, and sees what was entered since the server began", async () => {
    const before = (await (await get("verify")).json()) as { entries: number };
    const added = await fetch(`${page}api/specimens`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ ...specimen, label: "W-2" }),
    });
    expect(added.status).toBe(201);
    expect(await (await get("verify")).json()).toMatchObject({ ok: true, entries: before.entries + 1 });
    expect((await bytesAt("labels.pdf?specimen=W-2")).length).toBeGreaterThan(1000);
  });

  it.each([
    ["exhibit.pdf?specimen=none", 404, "none"],
    ["package.zip?job=none", 400, 'there is no specimen of job "none"; jobs with specimens: "Mill Lane"'],
    ["exhibit-rates.pdf?by=colour", 400, "colour"],
    [`letter.pdf?specimen=none&to=A`, 404, "none"],
    [`verify?head=${"ab".repeat(32)}`, 200, "ab".repeat(32)],
  ])("answers %s with a problem as the server itself would", async (path, status, words) => {
    const answer = await get(path);
    const text = await answer.text();
    expect([answer.status, answer.headers.get("content-type")?.split(";")[0]]).toEqual([
      status,
      status === 200 ? "application/json" : "application/problem+json",
    ]);
    expect(JSON.stringify(JSON.parse(text)).replaceAll("\\", "")).toContain(words);
  });

  it("works while a shot is on, which loses no line and ends by itself", async () => {
    const slow = "emulated?breaker=sound&speed=4&seed=3";
    const post = (path: string, body: object) =>
      fetch(`${page}api/${path}`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify(body),
      });
    expect((await post("rig/connect", { address: slow })).status).toBeLessThan(300);
    const order = {
      specimen: id,
      limitSet: "ul-489-calibration",
      multiple: 2,
      loading: "pole-1",
      confirmedSafe: true,
    };
    const begun = await post("shots", order);
    expect([begun.status, await begun.text()]).toEqual([202, expect.any(String)]);
    const current = async () => JSON.parse((await (await get("shots/current")).text()) || "null");
    expect(await current()).not.toBe(null);
    await bytesAt(`exhibit.pdf?specimen=${id}`);
    expect((await get("verify")).status).toBe(200);
    expect(await current()).not.toBe(null);
    await expect.poll(current, { timeout: 40_000, interval: 200 }).toBe(null);
    const { entries } = (await (await get("ledger")).json()) as {
      entries: { kind: string; body: { lineHealth: object; hostEnd: string } }[];
    };
    expect(entries.findLast(({ kind }) => kind === "shot-closed")?.body).toMatchObject({
      hostEnd: "rig-ended",
      lineHealth: { missing: 0 },
    });
  });

  it("leaves the server free to answer meanwhile, and makes one after the other in the order of asking", async () => {
    const done: string[] = [];
    const mark = async (name: string, work: Promise<unknown>) => {
      await work;
      done.push(name);
    };
    const making = [mark("package", bytesAt(`package.zip?specimen=${id}`))];
    // Asked one after the other, so that they arrive in this order.
    await get("lab");
    making.push(mark("labels", bytesAt("labels.pdf")));
    for (let i = 0; i < 5; i += 1) await mark("answer", get("specimens"));
    await Promise.all(making);
    expect(done).toEqual([...Array(5).fill("answer"), "package", "labels"]);
  });
});
