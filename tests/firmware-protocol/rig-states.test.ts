import { describe, expect, it } from "vitest";
import type { RigMessage } from "../../firmware-protocol/messages.ts";
import { type RigState, type RigTrigger, rigStates, rigSteps } from "../../firmware-protocol/rig-states.ts";
import { TestHost } from "./emulated-rig/test-host.ts";

/** A host whose rig stands in a state, with a hazard present if wanted; `trips` gives it a breaker that opens early. */
function hostIn(state: RigState, hazard = false, longest = 60_000): TestHost {
  const host = new TestHost();
  if (state === "armed" || state === "fault") host.arm();
  if (state === "on") host.fire({ longest });
  if (hazard || state === "fault") host.rig.pressStopButton();
  if (state === "fault" && !hazard) host.rig.releaseStopButton();
  expect(host.state).toBe(state);
  host.beats = false;
  host.forget();
  return host;
}

const arm = {
  verb: "ARM",
  shot: 9,
  amps: 27_000,
  rated: 20_000,
  longest: 1000,
  loading: "pole-1",
  every: "cycle",
  raw: 0,
} as const;

/** How each trigger is brought about, in a state in which it can be. */
const bringAbout: Readonly<Record<RigTrigger, (state: RigState) => TestHost>> = {
  reset: (state) => acted(hostIn(state), (host) => host.rig.reset()),
  hello: (state) => acted(hostIn(state), (host) => host.send({ verb: "HELLO", version: 1 })),
  "hello-other": (state) => acted(hostIn(state), (host) => host.send({ verb: "HELLO", version: 2 })),
  "arm-fit": (state) => acted(hostIn(state), (host) => host.send(arm)),
  "arm-unfit": (state) => acted(hostIn(state), (host) => host.send({ ...arm, amps: 1 })),
  "fire-right": () => {
    const host = new TestHost();
    const ready = host.arm();
    host.forget();
    return acted(host, () => host.send({ verb: "FIRE", token: ready.verb === "READY" ? ready.token : "" }));
  },
  "fire-wrong": (state) => acted(hostIn(state), (host) => host.send({ verb: "FIRE", token: "00000000" })),
  stop: (state) => acted(hostIn(state), (host) => host.send({ verb: "STOP" })),
  "clear-gone": (state) => acted(hostIn(state), (host) => host.send({ verb: "CLEAR" })),
  "clear-present": (state) => acted(hostIn(state, true), (host) => host.send({ verb: "CLEAR" })),
  "token-expired": (state) => {
    const host = hostIn(state);
    host.beats = true;
    host.pass(4500);
    host.forget();
    host.clock.turn(600);
    return host;
  },
  "beat-missing": (state) => acted(hostIn(state), (host) => host.clock.turn(1100)),
  opened: () => {
    const host = new TestHost();
    host.fire({ amps: 120_000, longest: 60_000 });
    host.forget();
    for (let i = 0; i < 400 && host.rig.isOn; i += 1) host.pass(100);
    return host;
  },
  "longest-over": () => acted(hostIn("on", false, 500), (host) => host.clock.turn(700)),
  "hazard-begins": (state) => acted(hostIn(state), (host) => host.rig.openInterlock()),
  "hazard-ends": (state) => acted(hostIn(state, true), (host) => host.rig.releaseStopButton()),
  "source-fault": (state) => acted(hostIn(state), (host) => host.rig.failSource()),
};

function acted(host: TestHost, act: (host: TestHost) => void): TestHost {
  act(host);
  return host;
}

/** Whether a message is what a step says, such as `EVENT kind=off why=opened|host-stop`. */
function matches(message: RigMessage, said: string): boolean {
  const [verb, ...fields] = said.split(" ");
  return (
    message.verb === verb &&
    fields.every((field) => {
      const [name = "", words = ""] = field.split("=");
      return words.split("|").includes(String((message as Record<string, unknown>)[name]));
    })
  );
}

const cases = (Object.keys(rigSteps) as RigTrigger[]).flatMap((trigger) =>
  (Object.keys(rigStates) as RigState[]).flatMap((state) => {
    const step = rigSteps[trigger][state];
    return step === null ? [] : [{ trigger, state, ...step }];
  }),
);

describe("the emulated rig does what the table of states says", () => {
  it.each(cases)("$trigger in $state: to $to", ({ trigger, state, to, says }) => {
    const host = bringAbout[trigger](state);
    host.clock.turn(16);
    const told = host.lines
      .map((line) => line.message)
      .filter(({ verb }) => !["SAMPLE", "RAW", "RESULT"].includes(verb))
      // Answers to the heartbeat of a host that waits for the opening are no part of the step; IDENT comes many times.
      .filter((message) => !(message.verb === "STATE" && message.state === "on" && to !== "on"))
      .filter((message, i, all) => message.verb !== "IDENT" || all[i - 1]?.verb !== "IDENT");
    expect(told.map((message, i) => matches(message, says[i] ?? "nothing"))).toEqual(says.map(() => true));
    host.forget();
    host.send({ verb: "BEAT" });
    expect(host.state).toBe(to);
  });
});
