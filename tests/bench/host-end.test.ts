import { describe, expect, it } from "vitest";
import { hostEndOf } from "../../src/bench/host-end.ts";
import { type ShotTrigger, shotTriggers } from "../../src/bench/shot-transitions.ts";

const causes = [...(Object.keys(shotTriggers) as ShotTrigger[]), null];

describe("hostEndOf", () => {
  it("lets what the rig says of itself outweigh whatever the host wanted", () => {
    for (const cause of causes) {
      expect(hostEndOf(cause, "opened")).toBe("rig-ended");
      expect(hostEndOf(cause, "longest-time")).toBe("limit");
      expect(hostEndOf(cause, "heartbeat-lost")).toBe("link-lost");
      for (const why of ["interlock", "over-temperature", "stop-button", "source-fault"] as const)
        expect(hostEndOf(cause, why)).toBe("interlock");
    }
  });

  it.each([
    ["limit-reached", "limit"],
    ["stop-wanted", "operator"],
    ["danger", "interlock"],
    ["sink-failed", "host-died"],
    ["line-lost", "link-lost"],
    ["fire-unanswered", "link-lost"],
  ] as const)(
    "tells the host's own reason, %s, where the rig was told to stop or said nothing",
    (cause, end) => {
      expect(hostEndOf(cause, "host-stop")).toBe(end);
      expect(hostEndOf(cause, null)).toBe(end);
    },
  );

  it("never takes an end without a known reason for a limit that was reached", () => {
    for (const cause of causes)
      if (cause !== "limit-reached") expect(hostEndOf(cause, null)).not.toBe("limit");
  });
});
