import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import { parseLineFaults } from "../../firmware-protocol/emulated-rig/line-faults.ts";
import { EmulatedLink } from "../../src/bench/emulated-link.ts";
import type { Link } from "../../src/bench/link.ts";
import { offerEmulatedRig } from "../../src/bench/offer-emulated-rig.ts";
import { openLink } from "../../src/bench/open-link.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { runShot } from "../../src/bench/shot-machine.ts";
import { noStop, quickOrder, RecordingSink } from "./recording-sink.ts";
import { withoutSocat } from "./without-socat.ts";

const folder = mkdtempSync(join(tmpdir(), "asfound-lost-"));
afterAll(() => rmSync(folder, { recursive: true }));
const leave: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of leave.splice(0).reverse()) await close();
});
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Without a heartbeat the rig switches off within a second; the rest is patience with a busy machine. */
const goesSafe = (rig: EmulatedRig) =>
  vi.waitFor(() => expect(rig.isOn).toBe(false), { timeout: 5000, interval: 20 });

type Made = { rig: EmulatedRig; link: Link };
// A breaker that never trips and a long test: only the loss can end the current.
const rigOptions = (faults: string) => ({
  seed: 3,
  speed: 20,
  breaker: breakerByName("never-trips"),
  lineFaults: parseLineFaults(faults),
});
const longOrder = quickOrder({ endAtSeconds: 3000, longestSeconds: 3600 });

async function inProcess(faults: string): Promise<Made> {
  const link = new EmulatedLink(rigOptions(faults));
  leave.push(() => link.close());
  return { rig: link.rig, link };
}

async function onTcp(faults: string): Promise<Made> {
  const rig = new EmulatedRig(rigOptions(faults));
  const offer = await offerEmulatedRig(rig, { tcp: 0 });
  leave.push(() => offer.close());
  return { rig, link: openLink(offer.address) };
}

async function onPty(faults: string): Promise<Made> {
  const rig = new EmulatedRig(rigOptions(faults));
  const offer = await offerEmulatedRig(rig, { pty: join(folder, "rig") });
  leave.push(() => offer.close());
  return { rig, link: openLink(offer.address) };
}

async function connected({ rig, link }: Made) {
  const session = new RigSession(link);
  leave.push(() => session.close());
  await session.connect();
  return { rig, session, sink: new RecordingSink() };
}

async function reconnect(session: RigSession): Promise<void> {
  for (let tries = 0; ; tries += 1) {
    try {
      await session.connect();
      return;
    } catch (error) {
      if (tries === 40) throw error;
      await pause(50);
    }
  }
}

const kinds: [string, (faults: string) => Promise<Made>, string | false][] = [
  ["in this process", inProcess, false],
  ["over TCP", onTcp, false],
  ["over a pseudo-terminal", onPty, withoutSocat],
];

describe.each(kinds)("in the middle of a shot, %s,", (_, make, skip) => {
  if (skip !== false) {
    it.runIf(process.env.ASFOUND_NO_SKIPS === "1")("has what it needs", () => expect.fail(skip));
    return;
  }

  it("a cable that is pulled ends it; the rig goes safe alone; connecting again starts nothing", async () => {
    const { rig, session, sink } = await connected(await make("pull-at=5"));
    const end = await runShot(session, longOrder, sink, noStop);
    expect(end).toMatchObject({ hostEnd: "link-lost", rigResult: null, opened: true });
    expect(sink.states).toEqual(["checks", "arm", "inject", "watch", "record", "done"]);
    expect(sink.count).toBeGreaterThan(100);
    expect(session.connected).toBe(false);
    await goesSafe(rig);
    await reconnect(session);
    expect(session.state?.state).toBe("safe");
    await pause(300);
    expect(rig.isOn).toBe(false);
    const after = new RecordingSink();
    const stop = new AbortController();
    after.onSamples = () => stop.abort();
    expect((await runShot(session, { ...longOrder, shot: 2 }, after, stop.signal)).hostEnd).toBe("operator");
    expect(after.runs.length).toBeGreaterThan(0);
  });

  it("silence ends it: the rig switches off by itself, and the shot counts as lost with the line", async () => {
    const { rig, session, sink } = await connected(await make("silence-at=5,silence-for=100000"));
    const end = await runShot(session, longOrder, sink, noStop);
    expect(end).toMatchObject({ hostEnd: "link-lost", rigResult: null, opened: true });
    expect(end.reason).toContain("nothing was heard from the rig for 1000 ms");
    await goesSafe(rig);
  });

  it("a rig that restarts ends it, and is not made to go on", async () => {
    const { rig, session, sink } = await connected(await make("reset-at=5"));
    const end = await runShot(session, longOrder, sink, noStop);
    expect(end).toMatchObject({ hostEnd: "link-lost", rigResult: null, opened: true });
    expect(end.reason).toContain("the rig restarted");
    expect(rig.isOn).toBe(false);
    await reconnect(session);
    expect(session.state?.state).toBe("safe");
    await pause(200);
    expect(rig.isOn).toBe(false);
  });
});

describe("a host that vanishes in the middle of a shot", () => {
  it("leaves a rig that switches off by itself, and whose result the next host takes over", async () => {
    const { rig, link } = await onTcp("");
    const first = await connected({ rig, link });
    const lost = runShot(first.session, longOrder, first.sink, noStop);
    await vi.waitFor(() => expect(rig.isOn).toBe(true));
    await link.close();
    await goesSafe(rig);
    expect((await lost).hostEnd).toBe("link-lost");
    const second = await connected({ rig, link: openLink(link.address) });
    second.sink.onSamples = () => setImmediate(() => stop.abort());
    const stop = new AbortController();
    const end = await runShot(second.session, { ...longOrder, shot: 2 }, second.sink, stop.signal);
    expect(end).toMatchObject({ hostEnd: "operator", rigResult: { why: "host-stop" } });
  });
});
