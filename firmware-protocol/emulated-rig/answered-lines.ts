import type { RigMessage } from "../messages.ts";

const rememberedLines = 64;

/**
 * The newest host lines and how each was answered, so that a line that comes again is answered again and not obeyed
 * again. Few are kept: numbers come round, and after 65536 lines the same bytes mean a new line.
 */
export class AnsweredLines {
  readonly #answers = new Map<string, RigMessage[]>();

  /** The answers given to this very line, or null if it is new. */
  find(line: Uint8Array): readonly RigMessage[] | null {
    return this.#answers.get(textOf(line)) ?? null;
  }

  /** Remembers a line. @returns the list to which its answers are to be added */
  add(line: Uint8Array): RigMessage[] {
    const answers: RigMessage[] = [];
    this.#answers.set(textOf(line), answers);
    const oldest = this.#answers.keys().next();
    if (this.#answers.size > rememberedLines && oldest.done !== true) this.#answers.delete(oldest.value);
    return answers;
  }

  /** Forgets all, when a host introduces itself and counts its lines anew. */
  clear(): void {
    this.#answers.clear();
  }
}

// The line begins with its sequence number, so its text stands for both.
function textOf(line: Uint8Array): string {
  return String.fromCharCode(...line);
}
