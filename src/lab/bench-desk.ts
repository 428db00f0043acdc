import { EmulatedLink } from "../bench/emulated-link.ts";
import type { Link } from "../bench/link.ts";
import { listPorts } from "../bench/list-ports.ts";
import { openLink } from "../bench/open-link.ts";
import { parseLinkAddress } from "../bench/parse-link-address.ts";
import { RigSession } from "../bench/rig-session.ts";
import { runShot, type ShotEnd } from "../bench/shot-machine.ts";
import type { BreakerChoice, CurrentShot, LinkChoice, LiveMessage, RigView } from "../contract/http.ts";
import type { EntryBodies, ShotColdness } from "../contract/ledger-entries.ts";
import type { Specimen } from "../core/specimen/specimen.ts";
import type { EntryOrigin } from "../store/ledger.ts";
import type { SpecimenRecord } from "../store/records.ts";
import type { SampleWriter } from "../store/sample-writer.ts";
import { closeShot } from "./close-shot.ts";
import { EmulatedMounts } from "./emulated-mounts.ts";
import { originOf } from "./entry-origin.ts";
import { demandGate } from "./gate.ts";
import { InputError } from "./input-error.ts";
import type { Lab } from "./lab.ts";
import { LiveSamples } from "./live-samples.ts";
import { ruleInForce } from "./lock-programme.ts";
import { breakerChoices } from "./offer-rig.ts";
import {
  checkRigCan,
  type PointRequest,
  type PreparedShot,
  prepareShot,
  type ShotRequest,
} from "./prepare-shot.ts";
import { RigError } from "./rig-error.ts";
import { knownSpecimen, specimenView } from "./specimen-view.ts";
import { coldnessBeforeShot, restClock } from "./thermal-history.ts";

/** A closed shot as the ledger has it, opened and closed bodies together. */
export interface FinishedShot {
  opened: EntryBodies["shot-opened"];
  closed: EntryBodies["shot-closed"];
}

/** A shot that has begun: `opened` settles when it is in the ledger and current is about to flow, `finished` at its end. */
interface RunningShot {
  opened: Promise<string>;
  finished: Promise<FinishedShot>;
  stop: AbortController;
}

const reasonOf = (error: unknown) => (error instanceof Error ? error.message : String(error));

function emulatedSeed(address: string): number {
  const place = parseLinkAddress(address);
  return place.kind === "emulated" ? place.seed : 0;
}

/**
 * The bench: one rig, at most one shot at a time, and everything that happens told to whoever listens. Current flows only
 * between a shot's opening entry and its closing entry in the ledger.
 */
export class BenchDesk {
  readonly #lab: Lab;
  readonly #listeners = new Set<(message: LiveMessage) => void>();
  #address: string;
  #link: Link | null = null;
  #session: RigSession | null = null;
  #mounts: EmulatedMounts | null = null;
  #problem: string | null = null;
  #shot: CurrentShot | null = null;
  #running: RunningShot | null = null;
  #busy = false;
  #retry: NodeJS.Timeout | null = null;
  #closed = false;

  constructor(lab: Lab, address: string) {
    this.#lab = lab;
    this.#address = address;
  }

  /** Calls `tell` with every message of the live feed; the answer ends that. */
  listen(tell: (message: LiveMessage) => void): () => void {
    this.#listeners.add(tell);
    return () => this.#listeners.delete(tell);
  }

  /** The shot under way, or null. */
  current(): CurrentShot | null {
    return this.#shot;
  }

  /** State of the rig and its line as last heard. */
  rig(): RigView {
    const state = this.#session?.state ?? null;
    const health = this.#session?.health ?? { good: 0, damaged: 0, askedAgain: 0, missing: 0 };
    return {
      address: this.#address,
      state: state?.state ?? "absent",
      problem: this.#problem,
      identity: this.#session?.identity ?? null,
      interlock: state?.interlock ?? null,
      button: state?.button ?? null,
      ambientCelsius: state === null ? null : state.ambient / 1000,
      sourceCelsius: state === null ? null : state.source / 1000,
      speed: this.#link instanceof EmulatedLink ? this.#link.speed : null,
      health: {
        good: health.good,
        damaged: health.damaged,
        askedAgain: health.askedAgain,
        missing: health.missing,
      },
    };
  }

  /** Addresses that can be tried: this machine's serial ports and the emulated rig. */
  async linkChoices(): Promise<LinkChoice[]> {
    const ports = await listPorts();
    return [
      { address: "emulated?speed=20", words: "emulated rig, clock 20 times faster" },
      { address: "emulated?speed=1", words: "emulated rig, true time" },
      ...ports.map((port) => ({
        address: port.address,
        words: ["serial port", port.path, port.manufacturer].filter((part) => part !== null).join(" "),
      })),
    ];
  }

  /** Breakers that the emulated rig can play. */
  breakers(): BreakerChoice[] {
    return breakerChoices();
  }

  /**
   * Uses the rig at an address, in place of the one before.
   *
   * @throws RigError while a shot is under way, or where no rig answers there
   */
  async connect(address: string): Promise<RigView> {
    if (this.#busy) throw new RigError("a test is under way; stop it before changing the rig");
    await this.#disconnect();
    this.#address = address;
    this.#problem = null;
    try {
      const link = openLink(address);
      const session = new RigSession(link);
      await session.connect();
      this.#link = link;
      this.#session = session;
      this.#mounts = link instanceof EmulatedLink ? new EmulatedMounts(link, emulatedSeed(address)) : null;
      session.on("state", () => this.#tellRig());
      session.on("lost", (reason) => this.#lost(reason));
    } catch (error) {
      this.#problem = reasonOf(error);
      this.#tellRig();
      throw new RigError(this.#problem);
    }
    this.#tellRig();
    return this.rig();
  }

  /** Leaves the rig's fault state once its cause is gone. */
  async clearFault(): Promise<RigView> {
    await this.#ready().clear();
    return this.rig();
  }

  /**
   * Whether a shot can be made and judged with this rig as things stand; nothing is stored and nothing moves.
   *
   * @throws InputError where the request does not fit or the gate before the first current is not passed, RigError where there
   * is no rig or its calibration blocks
   */
  check(details: Specimen, request: PointRequest): PreparedShot {
    demandGate(this.#lab, details.label);
    const { identity } = this.#ready();
    if (identity === null) throw new RigError("the rig has not identified itself");
    const prepared = prepareShot(this.#lab, details, request, identity);
    checkRigCan(identity, prepared);
    return prepared;
  }

  /**
   * Begins one shot, in the name of whoever drives the bench, and gives its identifier once it is in the ledger and current is about to flow.
   *
   * @throws InputError where the request does not fit, RigError where the rig refuses; nothing is stored then
   */
  async start(request: ShotRequest, by: EntryOrigin = originOf(this.#lab)): Promise<string> {
    return this.#begin(request, by).opened;
  }

  /** Runs one shot to its end. Throws as `start` does. */
  async run(request: ShotRequest): Promise<FinishedShot> {
    const running = this.#begin(request, originOf(this.#lab));
    await running.opened;
    return running.finished;
  }

  /** Current off and disarm, in any state; waits until the shot, if any, is closed. */
  async stop(): Promise<void> {
    this.#running?.stop.abort();
    if (this.#running === null) await this.#session?.command({ verb: "STOP" });
    else await this.#running.finished.catch(() => undefined);
  }

  /** A handle was moved by hand: the emulated rig's breaker feels it too. */
  handleMoved(specimen: string, operations: number): void {
    this.#mounts?.moveHandle(knownSpecimen(this.#lab, specimen), operations);
  }

  /** Stops whatever runs and lets go of the rig. */
  async close(): Promise<void> {
    this.#closed = true;
    await this.stop().catch(() => undefined);
    await this.#disconnect();
  }

  #ready(): RigSession {
    if (this.#session === null) {
      throw new RigError(`no rig at ${this.#address}${this.#problem === null ? "" : `: ${this.#problem}`}`);
    }
    return this.#session;
  }

  #tell(message: LiveMessage): void {
    for (const tell of this.#listeners) tell(message);
  }

  #tellRig(): void {
    this.#tell({ kind: "rig", rig: this.rig() });
  }

  async #disconnect(): Promise<void> {
    if (this.#retry !== null) clearTimeout(this.#retry);
    this.#retry = null;
    const session = this.#session;
    this.#session = null;
    this.#link = null;
    this.#mounts = null;
    await session?.close();
  }

  #lost(reason: string): void {
    this.#problem = reason;
    const address = this.#address;
    void this.#disconnect().then(() => {
      this.#tellRig();
      if (!this.#closed) this.#reconnectLater(address);
    });
  }

  /** A new connection identifies the rig afresh; it never starts current. */
  #reconnectLater(address: string): void {
    this.#retry = setTimeout(() => {
      if (this.#closed || this.#session !== null || this.#address !== address) return;
      if (this.#busy) this.#reconnectLater(address);
      else this.connect(address).catch(() => this.#reconnectLater(address));
    }, 2000);
    this.#retry.unref();
  }

  #begin(request: ShotRequest, by: EntryOrigin): RunningShot {
    if (this.#busy) throw new RigError("a test is under way; only one runs at a time");
    const session = this.#ready();
    const specimen = knownSpecimen(this.#lab, request.specimen);
    const rule = ruleInForce(this.#lab, request);
    const prepared = this.check(specimen.details, { ...request, rule });
    const clock = restClock(this.#address, session.identity?.emulated ?? false);
    const coldness = coldnessBeforeShot(this.#lab, specimen, prepared.point, clock);
    this.#busy = true;
    const stop = new AbortController();
    let tellOpened: (shot: string) => void = () => undefined;
    let refuse: (error: unknown) => void = () => undefined;
    const opened = new Promise<string>((resolve, reject) => {
      tellOpened = resolve;
      refuse = reject;
    });
    const finished = this.#shoot(session, specimen, prepared, coldness, by, stop, tellOpened).finally(() => {
      this.#busy = false;
      this.#running = null;
      this.#shot = null;
      this.#tell({ kind: "shot", shot: null });
    });
    finished.catch((error: unknown) => {
      refuse(error);
      this.#tell({ kind: "refused", shot: null, detail: reasonOf(error) });
    });
    opened.catch(() => undefined);
    this.#running = { opened, finished, stop };
    return this.#running;
  }

  async #shoot(
    session: RigSession,
    specimen: SpecimenRecord,
    prepared: PreparedShot,
    coldness: ShotColdness,
    by: EntryOrigin,
    stop: AbortController,
    tellOpened: (shot: string) => void,
  ): Promise<FinishedShot> {
    const lab = this.#lab;
    const identity = session.identity;
    if (identity === null) throw new RigError("the rig has not identified itself");
    this.#mounts?.mount(specimen);
    const { shot, number } = lab.store.records.nextShot();
    const { point } = prepared;
    const body: EntryBodies["shot-opened"] = {
      shot,
      number,
      specimen: specimen.specimen,
      state: specimen.state,
      limitSet: point.limitSet,
      limitSetHash: lab.limits.hashOf(point.limitSet),
      limitIncludesGuardBand: lab.limits.get(point.limitSet).limitIncludesGuardBand,
      row: point.row,
      loading: point.loading,
      ratedAmps: specimen.details.ratedAmps,
      targetAmps: point.targetAmps,
      endAtSeconds: prepared.endAtSeconds,
      rule: prepared.rule,
      confirmed: prepared.confirmed,
      ...(prepared.choice === undefined ? {} : { choice: prepared.choice }),
      basis: prepared.basis,
      rig: identity,
      link: this.#address,
      coldness,
    };
    const view = specimenView(lab, specimen.specimen);
    const startedAt = lab.now().toISOString();
    const live = new LiveSamples(shot, point.targetAmps, (message) => this.#tell(message));
    let writer: SampleWriter | null = null;
    let end: ShotEnd;
    try {
      end = await runShot(
        session,
        {
          shot: number,
          targetAmps: point.targetAmps,
          ratedAmps: body.ratedAmps,
          loading: point.loading,
          endAtSeconds: prepared.endAtSeconds,
          longestSeconds: prepared.longestSeconds,
          every: "cycle",
          rawSamples: 1024,
        },
        {
          state: (state) => {
            if (state === "inject" && writer === null) {
              lab.store.ledger.append("shot-opened", body, by);
              writer = lab.store.blocks.writer(shot, { onFailure: () => stop.abort() });
              tellOpened(shot);
            }
            this.#shot = {
              id: shot,
              specimen: view,
              point,
              state,
              endAtSeconds: prepared.endAtSeconds,
              startedAt,
            };
            this.#tell({ kind: "shot", shot: this.#shot });
          },
          samples: (run) => {
            writer?.samples(run);
            live.add(run);
          },
          event: (event) => writer?.event(event),
          raw: (window) => writer?.raw(window),
        },
        stop.signal,
      );
    } catch (error) {
      if (writer === null) throw error instanceof InputError ? error : new RigError(reasonOf(error));
      end = {
        hostEnd: "rig-ended",
        rigResult: null,
        ambientCelsius: null,
        lineHealth: { damaged: 0, askedAgain: 0, missing: 0 },
        reason: reasonOf(error),
        opened: true,
      };
    }
    (writer as { close(): void } | null)?.close();
    const closed = closeShot(lab, body, end);
    this.#tell({ kind: "closed", shot, reading: closed.reading, verdict: closed.verdict });
    return { opened: body, closed };
  }
}
