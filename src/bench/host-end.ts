import type { HostEnd, OffReason } from "../core/signal/shot-signal.ts";
import type { ShotTrigger } from "./shot-transitions.ts";

/**
 * Why a shot ended, from what made the host end it (null where it did not) and from why the rig switched off (null where it
 * never told). What the rig says of itself outweighs: a breaker that opens while STOP is under way has opened.
 */
export function hostEndOf(cause: ShotTrigger | null, off: OffReason | null): HostEnd {
  switch (off) {
    case "opened":
      return "rig-ended";
    case "longest-time":
      return "limit";
    case "heartbeat-lost":
    case "link-lost":
      return "link-lost";
    case "interlock":
    case "over-temperature":
    case "stop-button":
    case "source-fault":
      return "interlock";
    case "host-died":
      return "host-died";
    case "host-stop":
    case null:
      break;
  }
  switch (cause) {
    case "limit-reached":
      return "limit";
    case "stop-wanted":
      return "operator";
    case "sink-failed":
      return "host-died";
    case "line-lost":
    case "fire-unanswered":
    case "stop-unanswered":
      return "link-lost";
    default:
      return "interlock";
  }
}
