import { useState } from "preact/hooks";
import type { Problem } from "../../src/contract/http.ts";
import { problemOf } from "../server/request.ts";

/** A form on its way to the server. `done` is what was said after the last success. */
export interface Sending {
  problem: Problem | null;
  sending: boolean;
  done: string | null;
  /** Sends; on success says `words`. Gives true where it succeeded. */
  send(what: () => Promise<unknown>, words: string): Promise<boolean>;
  /** Refuses before sending, with what was found and what is accepted. */
  refuse(fields: { field: string; problem: string }[]): void;
}

/** State of a form that is sent: what is wrong, whether it is on its way, and what came of it. */
export function useSending(): Sending {
  const [problem, setProblem] = useState<Problem | null>(null);
  const [sending, setSending] = useState(false);
  const [done, setDone] = useState<string | null>(null);
  return {
    problem,
    sending,
    done,
    async send(what, words) {
      setSending(true);
      setProblem(null);
      setDone(null);
      try {
        await what();
        setDone(words);
        return true;
      } catch (error) {
        setProblem(problemOf(error));
        return false;
      } finally {
        setSending(false);
      }
    },
    refuse(fields) {
      setDone(null);
      setProblem({
        type: "about:blank",
        title: "",
        status: 0,
        detail: "Some fields need another look.",
        fields,
      });
    },
  };
}
