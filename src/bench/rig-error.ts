import type { RigMessage } from "../../firmware-protocol/messages.ts";

/** Why a rig refused a command; the words of the wire's REFUSED. */
export type RefusalCode = Extract<RigMessage, { verb: "REFUSED" }>["code"];

/** The rig refused a command; nothing changed on it. */
export class RigRefusal extends Error {
  readonly verb: string;
  readonly code: RefusalCode;
  readonly detail: string | null;

  constructor(verb: string, code: RefusalCode, detail: string | null) {
    super(`the rig refused ${verb}: ${code}${detail === null ? "" : ` (${detail})`}`);
    this.name = "RigRefusal";
    this.verb = verb;
    this.code = code;
    this.detail = detail;
  }
}

/** The rig did not answer, or the line to it is gone; whether a command reached it is not known. */
export class RigUnreachable extends Error {
  constructor(message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = "RigUnreachable";
  }
}

/** What answers is no rig that this program can work with: it speaks another version, or contradicts itself. */
export class RigUnsuitable extends Error {
  constructor(message: string) {
    super(message);
    this.name = "RigUnsuitable";
  }
}
