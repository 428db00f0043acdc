import { describe, expect, it } from "vitest";
import { soundLine } from "../../firmware-protocol/emulated-rig/line-faults.ts";
import { openLink } from "../../src/bench/open-link.ts";
import { parseLinkAddress } from "../../src/bench/parse-link-address.ts";

describe("parseLinkAddress", () => {
  it.each([
    ["serial:/dev/ttyUSB0", { kind: "serial", path: "/dev/ttyUSB0", baud: 115_200 }],
    ["serial:COM3?baud=9600", { kind: "serial", path: "COM3", baud: 9600 }],
    ["serial:/dev/serial/by-id/a:b", { kind: "serial", path: "/dev/serial/by-id/a:b", baud: 115_200 }],
    ["tcp:127.0.0.1:4000", { kind: "tcp", host: "127.0.0.1", port: 4000 }],
    ["tcp:[::1]:4000", { kind: "tcp", host: "::1", port: 4000 }],
    ["emulated", { kind: "emulated", breaker: null, speed: 1, seed: 1, faults: soundLine }],
    [
      "emulated?breaker=sound&speed=0.5&seed=7&faults=drop=0.1,pull-at=3",
      {
        kind: "emulated",
        breaker: "sound",
        speed: 0.5,
        seed: 7,
        faults: { ...soundLine, drop: 0.1, pullAt: 3 },
      },
    ],
  ])("reads %s", (text, expected) => {
    expect(parseLinkAddress(text)).toEqual(expected);
  });

  it.each([
    ["", "neither serial:, tcp: nor emulated"],
    ["/dev/ttyUSB0", "neither serial:, tcp: nor emulated"],
    ["serial:", "no path"],
    ["serial:/dev/x?baud=fast", "baud=fast"],
    ["serial:/dev/x?baud=0", "from 50 to 12000000"],
    ["serial:/dev/x?baud=9600&baud=9600", "twice"],
    ["serial:/dev/x?speed=2", 'the option "speed"'],
    ["tcp:here", "a host and a port"],
    ["tcp:here:0", "1 to 65535"],
    ["tcp:here:70000", "1 to 65535"],
    ["tcp:here:80?baud=1", "no option is accepted"],
    ["emulated?speed=0", "speed=0"],
    ["emulated?speed=-1", "speed=-1"],
    ["emulated?seed=1.5", "seed=1.5"],
    ["emulated?breaker=", "empty breaker name"],
    ["emulated?faults=drop=2", "a number from 0 to 1"],
    ["emulated?colour=red", "expected breaker, speed, seed, faults"],
  ])("refuses %j, saying what was found and what is accepted", (text, words) => {
    expect(() => parseLinkAddress(text)).toThrow(RangeError);
    expect(() => parseLinkAddress(text)).toThrow(words);
    expect(() => parseLinkAddress(text)).toThrow("accepted: serial:PATH[?baud=N], tcp:HOST:PORT or emulated");
  });

  it("names the breakers that there are when one is asked for that is not", () => {
    expect(() => openLink("emulated?breaker=golden")).toThrow(
      /no built-in breaker "golden"; accepted: sound/,
    );
  });
});
