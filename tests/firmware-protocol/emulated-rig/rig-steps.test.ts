import { describe, expect, it } from "vitest";
import type { RigMessage } from "../../../firmware-protocol/messages.ts";
import { type RigState, type RigTrigger, rigSteps } from "../../../firmware-protocol/rig-states.ts";
import { TestHost } from "./test-host.ts";

/** A host whose rig is in a state, ready for the trigger. */
function hostIn(state: RigState, trigger: RigTrigger): TestHost {
  const host = new TestHost({ breaker: trigger === "opened" ? "sound" : "never-trips" });
  const withHazard = trigger === "clear-present" || trigger === "hazard-ends";
  if (state === "armed" || state === "fault") host.arm();
  if (state === "on")
    host.fire({
      amps: trigger === "opened" ? 260_000 : 40_000,
      longest: trigger === "longest-over" ? 300 : 60_000,
    });
  if (withHazard) host.rig.openInterlock();
  else if (state === "fault") host.rig.failSource();
  host.send({ verb: "BEAT" });
  expect(host.state).toBe(state);
  return host;
}

/** What the rig says while time passes with a heartbeat, without the answers to the heartbeat. */
function saidIn(host: TestHost, milliseconds: number): RigMessage[] {
  const said: RigMessage[] = [];
  for (let passed = 0; passed < milliseconds; passed += 16) {
    if (passed % 256 === 0) host.send({ verb: "BEAT" });
    host.forget();
    host.clock.turn(16);
    said.push(...host.lines.map((line) => line.message));
  }
  return said;
}

function saidOn(host: TestHost, act: () => void): RigMessage[] {
  host.forget();
  act();
  return host.lines.map((line) => line.message);
}

const pull: Readonly<Record<RigTrigger, (host: TestHost) => RigMessage[]>> = {
  reset: (host) => saidOn(host, () => host.rig.reset()),
  hello: (host) => saidOn(host, () => host.send({ verb: "HELLO", version: 1 })),
  "hello-other": (host) => saidOn(host, () => host.send({ verb: "HELLO", version: 2 })),
  "arm-fit": (host) => saidOn(host, () => host.arm()),
  "arm-unfit": (host) => saidOn(host, () => host.arm({ amps: 1 })),
  "fire-right": (host) => {
    const { token } = host.last("READY");
    return saidOn(host, () => host.send({ verb: "FIRE", token }));
  },
  "fire-wrong": (host) => saidOn(host, () => host.send({ verb: "FIRE", token: "00000000" })),
  stop: (host) => saidOn(host, () => host.send({ verb: "STOP" })),
  "clear-gone": (host) => saidOn(host, () => host.send({ verb: "CLEAR" })),
  "clear-present": (host) => saidOn(host, () => host.send({ verb: "CLEAR" })),
  "token-expired": (host) => saidIn(host, 5200),
  "beat-missing": (host) => saidOn(host, () => host.clock.turn(1100)),
  opened: (host) => saidIn(host, 100),
  "longest-over": (host) => saidIn(host, 320),
  "hazard-begins": (host) => saidOn(host, () => host.rig.pressStopButton()),
  "hazard-ends": (host) => saidOn(host, () => host.rig.closeInterlock()),
  "source-fault": (host) => saidOn(host, () => host.rig.failSource()),
};

/** What was said, each in the words of the table where it fits; samples and results are no part of it. */
function inWordsOf(says: readonly string[], said: readonly RigMessage[]): string[] {
  const steps = said.filter(
    (one, index) =>
      one.verb !== "SAMPLE" &&
      one.verb !== "RESULT" &&
      !(one.verb === "IDENT" && said[index - 1]?.verb === "IDENT"),
  );
  return steps.map((message, index) => {
    const [verb, ...wanted] = (says[index] ?? "").split(" ");
    const fits = wanted.every((field) => {
      const [name = "", words = ""] = field.split("=");
      return words.split("|").includes(String((message as Record<string, unknown>)[name]));
    });
    return message.verb === verb && fits ? (says[index] as string) : JSON.stringify(message);
  });
}

describe("the emulated rig takes every step of the rig's table", () => {
  const cases = Object.entries(rigSteps).flatMap(([trigger, row]) =>
    Object.entries(row).flatMap(([from, step]) =>
      step === null ? [] : [{ trigger: trigger as RigTrigger, from: from as RigState, step }],
    ),
  );

  it.each(cases)("$trigger in $from", ({ trigger, from, step }) => {
    const host = hostIn(from, trigger);
    const said = pull[trigger](host);
    expect(inWordsOf(step.says, said)).toEqual(step.says);
    host.send({ verb: "BEAT" });
    expect(host.state).toBe(step.to);
  });
});
