import { readFileSync } from "node:fs";
import { createServer, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, resolve } from "node:path";
import type {
  CurrentShot,
  LabView,
  LimitSetView,
  LiveMessage,
  Problem,
  ProgrammeStep,
  RigView,
  SeedingView,
  ShotLine,
  ShotView,
  SpecimenView,
  StartShot,
} from "../../src/contract/http.ts";
import type { LedgerEntry, RigIdentity } from "../../src/contract/ledger-entries.ts";
import type { NextView, PlanView } from "../../src/contract/programme.ts";
import type { ReviewView } from "../../src/contract/review-schema.ts";
import { programmeFor } from "../../src/core/limits/applicable-rows.ts";
import type { LimitSet, TestPoint } from "../../src/core/limits/limit-set.ts";
import { requirementWords } from "../../src/core/limits/requirement-words.ts";
import type { Verdict } from "../../src/core/limits/verdict.ts";
import type { Reading } from "../../src/core/signal/reading.ts";
import type { Specimen } from "../../src/core/specimen/specimen.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";

const root = resolve(import.meta.dirname, "../..");
const page = join(root, "dist/page");
const limitSet = JSON.parse(readFileSync(join(root, "curves/ul-489-calibration.json"), "utf8")) as LimitSet;
const contentTypes: Record<string, string> = {
  ".html": "text/html",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
};

export const rigIdentity: RigIdentity = {
  protocol: 1,
  model: "Test-Rig",
  serial: "T-7",
  firmware: "1.0",
  lowestAmps: 0.5,
  highestAmps: 2000,
  timerSeconds: 0.000001,
  tickHz: 1_000_000,
  lineHz: 60,
  rawHz: 20_000,
  longestSeconds: 14_400,
  emulated: true,
};

/** How the next shot goes. Seconds are the rig's; `speed` of them pass per second of the wall. */
export interface ShotPlan {
  speed: number;
  opensAfterSeconds: number | null;
  flags?: Reading["flags"];
}

/**
 * A bench that answers the page as the contract says, without a rig: what it does next is set by the test. One message of
 * samples goes out every sixtieth of a second, as from a rig that sends each cycle by itself.
 */
export async function openFakeBench() {
  const specimens = new Map<string, SpecimenView>();
  const shots: ShotView[] = [];
  const feeds = new Set<ServerResponse>();
  const requests: { method: string; path: string; body: unknown }[] = [];
  const refusals = new Map<string, Problem>();
  const timers = new Set<NodeJS.Timeout>();
  let seeding: SeedingView | null = null;
  let current: CurrentShot | null = null;
  let plan: ShotPlan = { speed: 20, opensAfterSeconds: 40 };
  let feedsOpen = true;
  let entries = 1;
  let rig: RigView = {
    address: "emulated?speed=20",
    state: "safe",
    problem: null,
    identity: rigIdentity,
    interlock: "closed",
    button: "released",
    ambientCelsius: 24.6,
    sourceCelsius: 31,
    speed: 20,
    health: { good: 120, damaged: 0, askedAgain: 0, missing: 0 },
  };

  function say(message: LiveMessage) {
    for (const feed of feeds) feed.write(`event: ${message.kind}\ndata: ${JSON.stringify(message)}\n\n`);
  }
  function setRig(change: Partial<RigView>) {
    rig = { ...rig, ...change };
    say({ kind: "rig", rig });
  }
  function grow() {
    entries++;
    say({ kind: "ledger", entries, head: "f".repeat(64) });
  }
  function later(milliseconds: number, then: () => void) {
    const timer = setTimeout(() => {
      timers.delete(timer);
      then();
    }, milliseconds);
    timers.add(timer);
  }

  function receive(details: Specimen): SpecimenView {
    const view: SpecimenView = {
      id: `TEST-S${String(specimens.size + 1).padStart(4, "0")}`,
      details,
      entry: 2,
      receivedAt: "2026-03-09T10:00:00.000Z",
      state: { kind: "as-found" },
      shots: 0,
      result: null,
      amendments: 0,
    };
    specimens.set(view.id, view);
    grow();
    return view;
  }

  const programme = (specimen: SpecimenView): ProgrammeStep[] =>
    programmeFor(limitSet, specimen.details).map((point) => {
      const made = shots.find(
        ({ opened }) =>
          opened.body.specimen === specimen.id &&
          opened.body.row.id === point.row.id &&
          opened.body.loading === point.loading,
      );
      const line = made?.line;
      return {
        point,
        words: `${formatMultiple(point.row.multiple)}, ${point.loading}: must ${requirementWords(point.row.requirement)}`,
        shot:
          line?.result == null
            ? null
            : { id: line.id, result: line.result, seconds: line.seconds, heldSeconds: line.heldSeconds ?? 0 },
      };
    });

  /** Writes a finished shot into the record. */
  function record(
    specimen: SpecimenView,
    point: TestPoint,
    reading: Reading,
    verdict: Verdict,
    hostEnd: "limit" | "operator" | "rig-ended" | "host-died",
    id = `TEST-T${String(shots.length + 1).padStart(4, "0")}`,
  ): ShotView {
    const entry = {
      station: "TEST",
      at: "2026-03-09T10:05:00.000Z",
      actor: "operator",
      previous: "0".repeat(64),
    };
    const opened: LedgerEntry<"shot-opened"> = {
      ...entry,
      sequence: ++entries,
      kind: "shot-opened",
      hash: "a".repeat(64),
      signature: "b".repeat(128),
      body: {
        shot: id,
        number: shots.length + 1,
        specimen: specimen.id,
        state: specimen.state,
        limitSet: limitSet.id,
        limitSetHash: "c".repeat(64),
        limitIncludesGuardBand: false,
        row: point.row,
        loading: point.loading,
        ratedAmps: specimen.details.ratedAmps,
        targetAmps: point.targetAmps,
        endAtSeconds: 127,
        rule: { kind: "simple" },
        confirmed: false,
        basis: {
          currentPercent: 1,
          currentK: 2,
          timerSeconds: 0.000001,
          pickup: 1.15,
          from: "working values",
        },
        rig: rigIdentity,
        link: "emulated?speed=20",
      } as LedgerEntry<"shot-opened">["body"],
    };
    const closed: LedgerEntry<"shot-closed"> = {
      ...entry,
      sequence: ++entries,
      kind: "shot-closed",
      hash: "d".repeat(64),
      signature: "e".repeat(128),
      body: {
        shot: id,
        hostEnd,
        samples: reading.samples,
        blocks: 1,
        samplesHash: "9".repeat(64),
        rigResult: null,
        ambientCelsius: 24.6,
        lineHealth: { damaged: 0, askedAgain: 0, missing: 0 },
        reading,
        verdict,
      },
    };
    const line: ShotLine = {
      id,
      specimen: specimen.id,
      label: specimen.details.label,
      job: specimen.details.job ?? null,
      ratedAmps: specimen.details.ratedAmps,
      poles: specimen.details.poles,
      multiple: point.row.multiple,
      loading: point.loading,
      state: specimen.state,
      openedAt: opened.at,
      closedAt: closed.at,
      outcome: reading.outcome,
      result: verdict.result,
      seconds: reading.seconds,
      heldSeconds: reading.heldSeconds,
      limitSeconds: verdict.limitSeconds,
      demo: specimen.details.demo === true,
      amendments: 0,
    };
    const view: ShotView = {
      line,
      specimen,
      opened,
      closed,
      amendments: 0,
      provenance: [
        { what: "Rated current", value: `${specimen.details.ratedAmps} A`, from: "marked on the specimen" },
        { what: "Time", value: `${reading.seconds ?? reading.heldSeconds} s`, from: "read from the samples" },
      ],
    };
    shots.unshift(view);
    specimens.set(specimen.id, {
      ...specimen,
      shots: specimen.shots + 1,
      result: verdict.result,
      state: { kind: "exercised", operations: reading.outcome === "tripped" ? 1 : 0 },
    });
    grow();
    return view;
  }

  function startShot(wish: StartShot): string {
    const specimen = specimens.get(wish.specimen);
    const point = specimen
      ? programmeFor(limitSet, specimen.details).find(
          (one) => one.row.multiple === wish.multiple && one.loading === wish.loading,
        )
      : undefined;
    if (specimen === undefined || point === undefined) throw new Error("no such specimen or test point");
    const id = `TEST-T${String(shots.length + 1).padStart(4, "0")}`;
    const { requirement } = point.row;
    const limit = requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds;
    const base = {
      id,
      specimen,
      point,
      endAtSeconds: Math.ceil(limit * 1.05 + 1),
      startedAt: "2026-03-09T10:05:00.000Z",
    };
    const enter = (state: CurrentShot["state"]) => {
      current = { ...base, state };
      say({ kind: "shot", shot: current });
    };
    enter("checks");
    later(60, () => enter("arm"));
    later(120, () => {
      enter("inject");
      setRig({ state: "on" });
    });
    later(180, () => {
      enter("watch");
      stream(0);
    });
    return id;
  }

  /** Sends one sample and, after a sixtieth of a second, the next, until the shot is to end. */
  function stream(sample: number) {
    if (current?.state !== "watch") return;
    const seconds = (sample * plan.speed) / 60;
    if (plan.opensAfterSeconds !== null && seconds >= plan.opensAfterSeconds)
      return end("rig-ended", seconds);
    if (seconds >= current.endAtSeconds) return end("limit", seconds);
    const amps = current.point.targetAmps * (1 + 0.004 * Math.sin(sample / 7));
    say({ kind: "samples", shot: current.id, seconds: [seconds], amps: [amps], sentMs: Date.now() });
    later(1000 / 60, () => stream(sample + 1));
    return undefined;
  }

  function end(hostEnd: "limit" | "operator" | "rig-ended", seconds: number) {
    if (current === null) return;
    const ended = current;
    const tripped = hostEnd === "rig-ended";
    const stopped = hostEnd === "operator";
    const { requirement } = ended.point.row;
    const limitSeconds = requirement.kind === "hold-for" ? requirement.seconds : requirement.maxSeconds;
    const reading: Reading = {
      outcome: tripped ? "tripped" : stopped ? "interrupted" : "held",
      seconds: tripped ? seconds : null,
      interval: tripped ? { lower: seconds - 0.008, upper: seconds + 0.008 } : null,
      heldSeconds: seconds,
      effectiveAmps: ended.point.targetAmps,
      lowestAmps: ended.point.targetAmps * 0.996,
      highestAmps: ended.point.targetAmps * 1.004,
      multiple: ended.point.row.multiple,
      targetAmps: ended.point.targetAmps,
      uncertainty: null,
      flags: plan.flags ?? [],
      samples: 600,
    } as unknown as Reading;
    const result = stopped ? "undetermined" : tripped ? "pass" : "fail";
    const verdict: Verdict = {
      result,
      finding: stopped ? "not decided" : tripped ? "tripped in time" : "no trip",
      statement: null,
      probability: null,
      limitSeconds,
      limitSet: limitSet.id,
      row: ended.point.row.id,
      rule: { kind: "simple" },
      confirmed: false,
      reasons: [`The time was held against ${limitSeconds} s.`, "The limit set is unconfirmed."],
    };
    const enter = (state: CurrentShot["state"]) => {
      current = { ...ended, state };
      say({ kind: "shot", shot: current });
    };
    enter("end");
    setRig({ state: "safe" });
    later(60, () => enter("settle"));
    later(120, () => {
      enter("record");
      record(ended.specimen, ended.point, reading, verdict, hostEnd, ended.id);
      say({ kind: "closed", shot: ended.id, reading, verdict });
      current = null;
      say({ kind: "shot", shot: null });
    });
  }

  const lab = (): LabView => ({
    lab: "Test lab",
    station: "TEST",
    demo: true,
    version: "0.1.0",
    entries,
    head: "f".repeat(64),
    seeding,
    cautions: [
      "Current injection burns, arcs and can rupture a breaker. Qualified persons only.",
      "De-energise, lock out, isolate and fence the test area. Never touch leads under current.",
      "The emergency stop is the hard-wired button on the rig. Keep it within reach: this program is not it.",
      "A breaker that did not trip stays hot and closed. Terminals may be 50 K to 80 K above the room.",
      "Watch for fire on long tests. Do not leave a test alone.",
      "Local codes and licensed practice decide (OSHA 29 CFR 1910.331-.335, NFPA 70E by name).",
      "A pass says what one specimen did in one test; it is no statement that an installation is safe.",
    ],
    rateCaution: "Breakers pulled on suspicion are no sample of the installed base.",
  });
  const unlocked = (specimen: SpecimenView): PlanView => ({
    specimen: specimen.id,
    label: specimen.details.label,
    lock: null,
    steps: [],
    done: 0,
    finished: false,
    suspicions: [],
    jamSuspected: null,
  });
  const unreviewed = (shot: string): ReviewView => ({
    about: { kind: "shot", id: shot },
    state: "not reviewed",
    words: "Nobody has reviewed it.",
    madeBy: ["operator"],
    reviews: [],
    issues: [],
    since: [],
  });
  const limitView: LimitSetView = { set: limitSet, confirmed: false };

  function read(path: string, query: URLSearchParams): unknown {
    const [, , resource, id, part] = path.split("/").map(decodeURIComponent);
    if (resource === "lab") return lab();
    if (resource === "limits") return id === undefined ? [limitView] : limitView;
    if (resource === "rig" && id === "links")
      return [
        { address: "emulated?speed=20", words: "emulated rig, clock 20 times faster" },
        { address: "serial:/dev/ttyUSB0", words: "serial port /dev/ttyUSB0" },
      ];
    if (resource === "rig" && id === "breakers")
      return [{ name: "sound", about: "a healthy breaker", healthy: true }];
    if (resource === "rig") return rig;
    if (resource === "specimens" && id === undefined) return [...specimens.values()];
    const specimen = specimens.get(id ?? "");
    if (resource === "next") return { at: "2026-03-09T10:00:00.000Z", specimens: [] } satisfies NextView;
    if (resource === "specimens" && specimen !== undefined && part === "plan") return unlocked(specimen);
    if (resource === "specimens" && specimen !== undefined)
      return part === "programme" ? programme(specimen) : specimen;
    if (resource === "shots" && id === undefined) {
      const wanted = query.get("specimen");
      return shots.map(({ line }) => line).filter((line) => wanted === null || line.specimen === wanted);
    }
    if (resource === "shots" && id === "current") return current;
    const shot = shots.find(({ line }) => line.id === id);
    if (shot === undefined) return undefined;
    if (part === "review") return unreviewed(shot.line.id);
    if (part !== "trace") return shot;
    const count = Math.min(Number(query.get("points")), 400);
    const span = shot.line.seconds ?? shot.line.heldSeconds ?? 1;
    const seconds = Array.from({ length: count }, (_, i) => (i * span) / (count - 1));
    return {
      seconds,
      // A stretch in the middle is missing.
      amps: seconds.map((at) => (at > span * 0.5 && at < span * 0.55 ? null : shot.opened.body.targetAmps)),
      samples: 600,
      onsetSeconds: 0,
      openingSeconds: shot.line.seconds,
    };
  }

  function write(path: string, body: unknown): [status: number, answer: unknown] {
    const refusal = refusals.get(path);
    if (refusal !== undefined) return [refusal.status, refusal];
    if (path === "/api/specimens") return [201, receive(body as Specimen)];
    if (path === "/api/shots") return [202, { shot: startShot(body as StartShot) }];
    if (path === "/api/rig/connect") {
      setRig({ address: (body as { address: string }).address });
      return [200, rig];
    }
    if (path === "/api/stop") {
      if (current !== null) end("operator", 12);
      return [204, null];
    }
    const handle = /^\/api\/specimens\/(.+)\/handle$/.exec(path);
    const specimen = specimens.get(handle?.[1] ?? "");
    if (specimen === undefined)
      return [404, { type: "about:blank", title: "Not found", status: 404, detail: `nothing at ${path}` }];
    const moved = { ...specimen, state: { kind: "exercised" as const, operations: 1 } };
    specimens.set(specimen.id, moved);
    grow();
    return [200, moved];
  }

  const server = createServer(async (request, response) => {
    const url = new URL(request.url ?? "/", "http://localhost");
    const json = (status: number, answer: unknown) => {
      response.writeHead(status, {
        "content-type": status < 400 ? "application/json" : "application/problem+json",
      });
      response.end(status === 204 ? undefined : JSON.stringify(answer));
    };
    if (!url.pathname.startsWith("/api/")) {
      const file = join(page, url.pathname === "/" ? "index.html" : url.pathname);
      try {
        const content = readFileSync(file);
        response.writeHead(200, {
          "content-type": contentTypes[extname(file)] ?? "application/octet-stream",
        });
        response.end(content);
      } catch {
        response.writeHead(404).end();
      }
      return;
    }
    if (url.pathname === "/api/live") {
      if (!feedsOpen) return void response.destroy();
      response.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
      feeds.add(response);
      request.on("close", () => feeds.delete(response));
      say({ kind: "rig", rig });
      say({ kind: "shot", shot: current });
      say({ kind: "seeding", seeding });
      return;
    }
    let text = "";
    for await (const piece of request) text += piece;
    const body = text === "" ? null : JSON.parse(text);
    requests.push({ method: request.method ?? "", path: url.pathname + url.search, body });
    if (request.method === "POST") {
      if (!feedsOpen && url.pathname === "/api/stop" && refusals.has("/api/stop"))
        return void response.destroy();
      return json(...write(url.pathname, body));
    }
    const answer = read(url.pathname, url.searchParams);
    if (answer === undefined)
      return json(404, {
        type: "about:blank",
        title: "Not found",
        status: 404,
        detail: `There is no ${url.pathname}`,
      });
    return json(200, answer);
  });
  await new Promise<void>((resume) => server.listen(0, "127.0.0.1", resume));
  const { port } = server.address() as AddressInfo;

  return {
    url: `http://127.0.0.1:${port}/`,
    requests,
    limitSet,
    receive,
    record,
    programme,
    setRig,
    say,
    plan: (next: ShotPlan) => {
      plan = next;
    },
    /** Answers every POST to this path with a problem document; null ends that. */
    refuse(path: string, problem: Problem | null) {
      if (problem === null) refusals.delete(path);
      else refusals.set(path, problem);
    },
    seed(view: SeedingView | null) {
      seeding = view;
      say({ kind: "seeding", seeding });
    },
    /** Cuts every live feed and lets none begin, until `restoreFeeds`. */
    cutFeeds() {
      feedsOpen = false;
      for (const feed of feeds) feed.destroy();
    },
    restoreFeeds() {
      feedsOpen = true;
    },
    async close() {
      for (const timer of timers) clearTimeout(timer);
      for (const feed of feeds) feed.destroy();
      server.closeAllConnections();
      await new Promise((resume) => server.close(resume));
    },
  };
}

export type FakeBench = Awaited<ReturnType<typeof openFakeBench>>;
