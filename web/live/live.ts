import type { CurrentShot, LiveMessage, RigView, SeedingView } from "../../src/contract/http.ts";
import type { Verdict } from "../../src/core/limits/verdict.ts";
import type { Reading } from "../../src/core/signal/reading.ts";
import { getShot, getTrace } from "../server/resources.ts";
import { createFrameLoop, type FrameDelay } from "./frame-loop.ts";
import { createLiveTrace } from "./live-trace.ts";
import { createStore } from "./store.ts";

declare global {
  interface Window {
    /** Frames from message to picture, for whoever measures the page. */
    __delay: FrameDelay;
  }
}

/** How the page hears the bench: `lost` means that nothing shown can be relied on. */
export type Connection = "connecting" | "open" | "lost";

/** A shot that ended while the page watched. */
export interface ClosedShot {
  shot: CurrentShot;
  reading: Reading;
  verdict: Verdict;
}

const reconnectMs = 1000;
/** How long the result may follow the end of a shot before it is looked up. */
const resultGraceMs = 700;
/** Less than this share of the target is no current: the breaker has opened, or the source is not on yet. */
const flowingShare = 0.1;
const kinds: readonly LiveMessage["kind"][] = [
  "rig",
  "shot",
  "samples",
  "closed",
  "refused",
  "seeding",
  "ledger",
];

/** All that the page knows of the bench as it stands now. One for the whole page. */
export const live = createLive();

function createLive() {
  const connection = createStore<Connection>("connecting");
  const rig = createStore<RigView | null>(null);
  const shot = createStore<CurrentShot | null>(null);
  const closed = createStore<ClosedShot | null>(null);
  const refused = createStore<string | null>(null);
  const seeding = createStore<SeedingView | null>(null);
  const ledger = createStore<{ entries: number; head: string } | null>(null);
  const trace = createLiveTrace();
  /** When the last samples came, on the page's own clock; for telling that they stopped coming. */
  let samplesAtMs = 0;
  let traceOf: string | null = null;
  let newest: CurrentShot | null = null;
  let flowing: { seconds: number; amps: number } | null = null;
  const frames = createFrameLoop(
    { requestFrame: (callback) => requestAnimationFrame(callback), originMs: performance.timeOrigin },
    () => shot.get() !== null,
  );
  window.__delay = frames.delay;

  function beginTrace(id: string) {
    if (traceOf === id) return;
    traceOf = id;
    trace.reset();
    flowing = null;
    samplesAtMs = performance.now();
    frames.changed();
  }

  /** Notes the newest sample in which current flowed, which is where the running time stands. */
  function followFlow(seconds: ArrayLike<number>, amps: ArrayLike<number>) {
    const least = flowingShare * (newest?.point.targetAmps ?? 0);
    for (let i = 0; i < seconds.length; i++) {
      const [second, amp] = [seconds[i] ?? 0, amps[i] ?? 0];
      if (amp > least && second >= (flowing?.seconds ?? 0)) flowing = { seconds: second, amps: amp };
    }
  }

  /** The page was opened, or heard nothing for a while, in the middle of a shot: what went before is fetched. */
  async function catchUp(id: string) {
    const earlier = await getTrace(id, 4000).catch(() => null);
    if (earlier === null || traceOf !== id) return;
    const since = trace.tail(Number.POSITIVE_INFINITY);
    const [seconds, amps] = [since.seconds.slice(), since.amps.slice()];
    trace.reset();
    const present = earlier.seconds.flatMap((second, i) => {
      const amp = earlier.amps[i];
      return amp === null || amp === undefined ? [] : [{ second, amp }];
    });
    trace.append(
      present.map((point) => point.second),
      present.map((point) => point.amp),
    );
    trace.append(seconds, amps);
    const { seconds: allSeconds, amps: allAmps } = trace.tail(Number.POSITIVE_INFINITY);
    followFlow(allSeconds, allAmps);
    frames.changed();
  }

  /** Takes up the end of a shot, in whichever order the end and the result are told. */
  function end(id: string, reading: Reading, verdict: Verdict) {
    if (newest?.id === id) closed.set({ shot: newest, reading, verdict });
    if (shot.get()?.id === id) shot.set(null);
    frames.changed();
  }

  /** The end of a shot went by unheard, as when the connection was lost: its result is taken from the record. */
  async function lookUpEnd(id: string) {
    if (closed.get()?.shot.id === id) return;
    const ended = (await getShot(id).catch(() => null))?.closed?.body;
    if (ended !== undefined && closed.get()?.shot.id !== id) end(id, ended.reading, ended.verdict);
  }

  function hearShot(next: CurrentShot | null) {
    const before = shot.get();
    if (next === null || next.state === "done") {
      shot.set(null);
      if (before !== null) setTimeout(() => void lookUpEnd(before.id), resultGraceMs);
      frames.changed();
      return;
    }
    if (closed.get()?.shot.id === next.id) return;
    const isNew = before?.id !== next.id;
    newest = next;
    beginTrace(next.id);
    shot.set(next);
    frames.changed();
    if (!isNew) return;
    refused.set(null);
    closed.set(null);
    if (next.state === "watch") void catchUp(next.id);
  }

  function hear(message: LiveMessage) {
    switch (message.kind) {
      case "rig":
        rig.set(message.rig);
        break;
      case "shot":
        hearShot(message.shot);
        break;
      case "samples":
        beginTrace(message.shot);
        trace.append(message.seconds, message.amps);
        followFlow(message.seconds, message.amps);
        samplesAtMs = performance.now();
        frames.changed(message.sentMs);
        break;
      case "closed":
        end(message.shot, message.reading, message.verdict);
        break;
      case "refused":
        refused.set(message.detail);
        break;
      case "seeding":
        seeding.set(message.seeding);
        break;
      case "ledger":
        ledger.set({ entries: message.entries, head: message.head });
        break;
    }
  }

  let source: EventSource | null = null;
  /** Listens from now on, if it does not yet. */
  function open() {
    if (source !== null) return;
    const opened = new EventSource("/api/live");
    source = opened;
    opened.onopen = () => connection.set("open");
    for (const kind of kinds)
      opened.addEventListener(kind, (event) => {
        connection.set("open");
        hear({ kind, ...JSON.parse((event as MessageEvent<string>).data) } as LiveMessage);
      });
    opened.onerror = () => {
      connection.set("lost");
      opened.close();
      source = null;
      setTimeout(() => wanted && open(), reconnectMs);
    };
    wanted = true;
  }
  let wanted = false;

  /** Listens no more, until it is opened again. */
  function close() {
    wanted = false;
    source?.close();
    source = null;
  }

  return {
    connection,
    rig,
    shot,
    closed,
    refused,
    seeding,
    ledger,
    trace,
    frames,
    open,
    close,
    /** The newest sample in which current flowed; null before the first. */
    flowing: () => flowing,
    silentForMs: () => performance.now() - samplesAtMs,
  };
}
