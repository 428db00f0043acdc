import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { parseLineFaults } from "../../firmware-protocol/emulated-rig/line-faults.ts";
import { EmulatedLink } from "../../src/bench/emulated-link.ts";
import type { LineHealth } from "../../src/bench/line-health.ts";
import type { Link } from "../../src/bench/link.ts";
import { offerEmulatedRig } from "../../src/bench/offer-emulated-rig.ts";
import { openLink } from "../../src/bench/open-link.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { runShot, type ShotEnd } from "../../src/bench/shot-machine.ts";
import { noStop, quickOrder, RecordingSink } from "./recording-sink.ts";
import { withoutSocat } from "./without-socat.ts";

const folder = mkdtempSync(join(tmpdir(), "asfound-faults-"));
afterAll(() => rmSync(folder, { recursive: true }));

const faultsToTry = [
  "drop=0.05",
  "damage=0.05",
  "repeat=0.1",
  "reorder=0.1",
  "truncate=0.05",
  "drop=0.03,damage=0.03,repeat=0.05,reorder=0.05,truncate=0.03",
];

const rigOptions = (faults: string) => ({
  seed: 5,
  speed: 200,
  breaker: breakerByName("sound"),
  lineFaults: parseLineFaults(faults),
});

/** Its clock is past the time that a raw window needs before the onset. */
function restedRig(faults: string): EmulatedRig {
  const rig = new EmulatedRig(rigOptions(faults));
  rig.start();
  rig.rest(60);
  return rig;
}

type Made = { rig: EmulatedRig; link: Link; close(): Promise<void> };

async function inProcess(faults: string): Promise<Made> {
  const link = new EmulatedLink(rigOptions(faults));
  link.rig.start();
  link.rig.rest(60);
  return { rig: link.rig, link, close: async () => {} };
}

async function onPty(faults: string): Promise<Made> {
  const rig = restedRig(faults);
  const offer = await offerEmulatedRig(rig, { pty: join(folder, "rig") });
  return { rig, link: openLink(offer.address), close: () => offer.close() };
}

async function onTcp(faults: string): Promise<Made> {
  const rig = restedRig(faults);
  const offer = await offerEmulatedRig(rig, { tcp: 0 });
  return { rig, link: openLink(offer.address), close: () => offer.close() };
}

interface Outcome {
  end: ShotEnd;
  sink: RecordingSink;
  health: LineHealth;
}

async function shoot({ link, close }: Made): Promise<Outcome> {
  const session = new RigSession(link);
  try {
    await session.connect();
    const sink = new RecordingSink();
    const end = await runShot(session, quickOrder(), sink, noStop);
    return { end, sink, health: session.health };
  } finally {
    await session.close();
    await close();
  }
}

/** Either everything is there, exactly as over a sound line, or what is missing is reported and nothing else differs. */
function compare(outcome: Outcome, sound: Outcome): void {
  const { end, sink, health } = outcome;
  expect(end.hostEnd).toBe("rig-ended");
  expect(end.rigResult).toMatchObject({ outcome: "opened", samples: sound.sink.count });
  const windows = (one: RecordingSink) =>
    new Map(one.sinceOnset.map(({ us, milliamps }) => [Math.round(us / (1e6 / 60)), milliamps]));
  const expected = windows(sound.sink);
  const found = windows(sink);
  expect(found.size).toBe(sink.count);
  for (const [window, milliamps] of found) expect(milliamps, `window ${window}`).toBe(expected.get(window));
  if (end.lineHealth.missing === 0) {
    expect(sink.count).toBe(sound.sink.count);
    expect(sink.gaps).toBe(0);
    expect(sink.windows.map((one) => [...one.milliamps])).toEqual(
      sound.sink.windows.map((one) => [...one.milliamps]),
    );
    expect(sink.events.map((event) => event.kind)).toEqual(sound.sink.events.map((event) => event.kind));
  }
  const ends = sink.runs.map((run) => run.firstEndUs);
  expect(ends).toEqual([...ends].sort((a, b) => a - b));
  expect(health.good).toBeGreaterThan(0);
}

const kinds: [string, (faults: string) => Promise<Made>, string | false][] = [
  ["in this process", inProcess, false],
  ["over TCP", onTcp, false],
  ["over a pseudo-terminal", onPty, withoutSocat],
];

describe.each(kinds)("a line that is not sound, %s", (_, make, skip) => {
  if (skip !== false) {
    it.runIf(process.env.ASFOUND_NO_SKIPS === "1")("has what it needs", () => expect.fail(skip));
    return;
  }
  let sound: Outcome;
  beforeAll(async () => {
    sound = await shoot(await make(""));
    expect(sound.health).toMatchObject({ damaged: 0, askedAgain: 0, missing: 0, duplicates: 0, overruns: 0 });
    expect(sound.sink.count).toBe(sound.end.rigResult?.samples);
  });

  it.each(faultsToTry)("with %s loses nothing that is not reported", async (faults) => {
    const outcome = await shoot(await make(faults));
    compare(outcome, sound);
    // At these shares the chance that a line fails six times over is below one in a million.
    expect(outcome.end.lineHealth.missing).toBe(0);
    const { health } = outcome;
    if (faults.includes("drop")) expect(health.recovered).toBeGreaterThan(0);
    if (faults.includes("damage")) expect(health.damaged).toBeGreaterThan(0);
    if (faults.includes("repeat")) expect(health.duplicates).toBeGreaterThan(0);
  });

  it("that takes most of what it is given still ends with the current off, and says what is missing", async () => {
    const made = await make("drop=0.4,ways=from-rig");
    const { end, sink } = await shoot(made);
    expect(made.rig.isOn).toBe(false);
    expect(end.hostEnd).toMatch(/rig-ended|link-lost/);
    expect(end.lineHealth.askedAgain).toBeGreaterThan(0);
    if (end.rigResult !== null && sink.count < end.rigResult.samples)
      expect(end.lineHealth.missing).toBeGreaterThan(0);
  });
});
