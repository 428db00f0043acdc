import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { asfound, finished, firstDocument, startAsfound, toolIsThere, workplace } from "./asfound.ts";

let place: ReturnType<typeof workplace>;
beforeEach(() => {
  place = workplace();
});
afterEach(() => place.remove());

const shoot = (link: string, point: string, more: readonly string[] = []) =>
  asfound([
    ...["shoot", "--link", link, "--data", place.data, "--specimen", place.specimenFile],
    ...["--point", point, "--json", ...more],
  ]);

describe("one shot from the command line", () => {
  it("prints the shot, reads it, judges it and keeps it", async () => {
    const run = await shoot("emulated?breaker=sound&speed=300&seed=3", "2");
    expect(run.code).toBe(0);
    const { shot, specimen, reading, verdict } = run.document;
    expect(reading).toMatchObject({ outcome: "tripped", targetAmps: 40, flags: [] });
    expect(reading.seconds).toBeGreaterThan(10);
    expect(reading.seconds).toBeLessThan(120);
    expect(reading.interval.lower).toBeLessThanOrEqual(reading.seconds);
    expect(reading.interval.upper).toBeGreaterThanOrEqual(reading.seconds);
    expect(reading.samples).toBeGreaterThan(reading.seconds * 59);
    expect(verdict).toMatchObject({ result: "pass", limitSeconds: 120, limitSet: "ul-489-calibration" });
    expect(verdict.reasons.join(" ")).toContain("unconfirmed");

    const records = await asfound(["records", "--data", place.data, "--json"]);
    expect(records.document.shots).toHaveLength(1);
    expect(records.document.shots[0]).toMatchObject({
      id: shot,
      specimen,
      result: "pass",
      state: { kind: "as-found" },
    });
    expect((await asfound(["verify", "--data", place.data, "--json"])).document).toMatchObject({
      ok: true,
      problems: [],
    });
    const derived = await asfound(["rederive", "--data", place.data, "--json"]);
    expect(derived.document).toEqual({ shots: 1, same: 1, different: [] });
    expect((await asfound(["rebuild", "--data", place.data, "--json"])).document).toEqual({
      specimens: 1,
      shots: 1,
    });
  });

  it("fails a breaker that never trips, at the limit and a margin beyond", async () => {
    const { document } = await shoot("emulated?breaker=never-trips&speed=500", "2");
    expect(document.reading.outcome).toBe("held");
    expect(document.reading.seconds).toBeNull();
    expect(document.reading.heldSeconds).toBeGreaterThan(120);
    expect(document.verdict).toMatchObject({ result: "fail", finding: "no trip" });
  });

  it("counts the next shot of the same specimen as exercised, and repeats with the same seed", async () => {
    const first = await shoot("emulated?breaker=sound&speed=300&seed=3", "2");
    const second = await shoot("emulated?breaker=sound&speed=300&seed=3", "2");
    expect(second.document.specimen).toBe(first.document.specimen);
    const other = workplace();
    try {
      const again = await asfound([
        ...["shoot", "--link", "emulated?breaker=sound&speed=300&seed=3", "--data", other.data],
        ...["--specimen", other.specimenFile, "--point", "2", "--json"],
      ]);
      expect(again.document.reading.seconds).toBe(first.document.reading.seconds);
    } finally {
      other.remove();
    }
    const { document } = await asfound(["records", "--data", place.data, "--json"]);
    expect(document.shots.map((one: { state: object }) => one.state)).toEqual([
      { kind: "exercised", operations: 1 },
      { kind: "as-found" },
    ]);
  });

  it("runs a whole programme, each pole alone and all poles", async () => {
    writeFileSync(place.specimenFile, JSON.stringify({ label: "B-1", ratedAmps: 30, poles: 2, volts: 240 }));
    const run = await asfound([
      ...["programme", "--link", "emulated?breaker=one-pole-dead&speed=20000", "--data", place.data],
      ...["--specimen", place.specimenFile, "--json"],
    ]);
    expect(run.code).toBe(0);
    const results = run.document.shots.map((one: { verdict: { result: string } }) => one.verdict.result);
    expect(results).toEqual(["pass", "fail", "pass", "pass"]);
  });
});

describe("bad input", () => {
  it.each([
    ["a specimen without a rating", { label: "x", poles: 1, volts: 120 }, "2", "ratedAmps is missing"],
    [
      "an unknown field",
      { label: "x", ratedAmps: 20, poles: 1, volts: 120, colour: 1 },
      "2",
      "colour is not known here",
    ],
    [
      "a multiple without a row",
      { label: "x", ratedAmps: 20, poles: 1, volts: 120 },
      "2.5",
      "multiples 2, 1.35 and 1",
    ],
    ["a rating beyond the set", { label: "x", ratedAmps: 7000, poles: 1, volts: 120 }, "2", "found 7000"],
  ])("refuses %s and stores nothing of it", async (_what, specimen, point, words) => {
    writeFileSync(place.specimenFile, JSON.stringify(specimen));
    const run = await shoot("emulated?speed=300", point);
    expect(run.code).toBe(2);
    expect(run.document.error).toContain(words);
    if (existsSync(place.data)) {
      const { document } = await asfound(["specimens", "--data", place.data, "--json"]);
      expect(document.specimens).toEqual([]);
    }
  });

  it.each([
    ["a link of no kind", "usb:1", "serial:"],
    ["a port that is not there", "serial:/nowhere/tty", "no such port"],
    ["a breaker that is not there", "emulated?breaker=golden", "golden"],
    ["a socket on which nothing listens", "tcp:127.0.0.1:9", "nothing listens"],
  ])("refuses %s", async (_what, link, words) => {
    const run = await shoot(link, "2");
    expect(run.code).toBe(2);
    expect(run.document.error).toContain(words);
  });

  it("ends with 2 on unknown options, and prints the usage to stderr only", async () => {
    const run = await asfound(["shoot", "--fire"]);
    expect(run.code).toBe(2);
    expect(run.stdout).toBe("");
  });

  it("refuses to say that a data directory which is not there is sound", async () => {
    const run = await asfound(["verify", "--data", join(place.folder, "nothing"), "--json"]);
    expect(run.code).not.toBe(0);
  });
});

describe("a crash in the middle of a shot", () => {
  it("loses at most the last second, and the shot is found as interrupted", async () => {
    const child = startAsfound([
      ...["shoot", "--link", "emulated?breaker=never-trips&speed=1", "--data", place.data],
      ...["--specimen", place.specimenFile, "--point", "2"],
    ]);
    const ended = finished(child);
    await pause(1500);
    const begun = Date.now();
    while (!existsSync(join(place.data, "asfound.sqlite"))) {
      if (Date.now() - begun > 15_000) throw new Error("the program did not begin");
      await pause(50);
    }
    await pause(4000);
    child.kill("SIGKILL");
    await ended;

    const { document } = await asfound(["records", "--data", place.data, "--json"]);
    expect(document.shots).toHaveLength(1);
    expect(document.shots[0]).toMatchObject({
      outcome: "interrupted",
      result: "undetermined",
      seconds: null,
    });
    expect(document.shots[0].heldSeconds).toBeGreaterThan(1.5);
    expect((await asfound(["verify", "--data", place.data, "--json"])).document).toMatchObject({ ok: true });
    expect((await asfound(["rederive", "--data", place.data, "--json"])).document).toMatchObject({ same: 1 });
  });
});

describe("the emulated rig on its own", () => {
  it("names its breakers, healthy and faulty", async () => {
    const { document } = await asfound(["emulate", "--list", "--json"]);
    expect(document.breakers.some((one: { healthy: boolean }) => one.healthy)).toBe(true);
    expect(document.breakers.filter((one: { healthy: boolean }) => !one.healthy).length).toBeGreaterThan(4);
  });

  it("is reached over TCP", async () => {
    const rig = startAsfound([
      "emulate",
      "--tcp",
      "0",
      "--speed",
      "300",
      "--breaker",
      "trips-late",
      "--json",
    ]);
    try {
      const { address } = await firstDocument(rig);
      const { document } = await shoot(address, "2");
      expect(document.error).toBeUndefined();
      expect(document.verdict).toMatchObject({ result: "fail" });
    } finally {
      rig.kill("SIGTERM");
    }
  });

  it.runIf(toolIsThere("socat"))("is reached over a pseudo-terminal whose line damages lines", async () => {
    const path = join(place.folder, "rig");
    const rig = startAsfound([
      ...["emulate", "--pty", path, "--speed", "100", "--breaker", "sound", "--json"],
      ...["--faults", "drop=0.03,damage=0.03,repeat=0.03,reorder=0.03,truncate=0.03"],
    ]);
    try {
      const { address } = await firstDocument(rig);
      expect(address).toBe(`serial:${path}`);
      const { document } = await shoot(address, "2");
      expect(document.error).toBeUndefined();
      expect(document.reading).toMatchObject({ outcome: "tripped" });
      expect(document.verdict.result).toBe("pass");
      const records = await asfound(["records", document.shot, "--data", place.data, "--json"]);
      const { lineHealth, samples, rigResult } = records.document.closed.body;
      expect(lineHealth.damaged).toBeGreaterThan(0);
      expect(lineHealth.askedAgain).toBeGreaterThan(0);
      expect(samples).toBe(rigResult.samples);
    } finally {
      rig.kill("SIGTERM");
    }
  });

  it.runIf(toolIsThere("socat"))(
    "records a shot whose cable was pulled as interrupted, with its samples",
    async () => {
      const path = join(place.folder, "rig");
      const rig = startAsfound([
        ...[
          "emulate",
          "--pty",
          path,
          "--speed",
          "5",
          "--breaker",
          "never-trips",
          "--faults",
          "pull-at=10",
          "--json",
        ],
      ]);
      try {
        const { address } = await firstDocument(rig);
        const { document } = await shoot(address, "2");
        expect(document.error).toBeUndefined();
        expect(document.reading).toMatchObject({ outcome: "interrupted", seconds: null });
        expect(document.reading.heldSeconds).toBeGreaterThan(3);
        expect(document.verdict.result).toBe("undetermined");
      } finally {
        rig.kill("SIGTERM");
      }
    },
  );
});
