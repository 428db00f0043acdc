/** The rig cannot do what was asked now: not connected, busy, or refusing. No current flows; nothing was stored. */
export class RigError extends Error {
  override readonly name = "RigError";
}
