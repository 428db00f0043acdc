import type { BreakerProfile } from "../../firmware-protocol/emulated-rig/breaker-profile.ts";
import { breakerByName, builtInBreakers } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
