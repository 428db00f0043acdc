import { useEffect, useState } from "preact/hooks";
import type { Problem } from "../../src/contract/http.ts";
import { live } from "../live/live.ts";
import { problemOf, request } from "./request.ts";

/** What is known of something that the server holds. The last value stays while it is fetched anew. */
export interface Resource<T> {
  value: T | null;
  problem: Problem | null;
  loading: boolean;
  reload(): void;
}

/** Entries of the ledger often come in threes; one fetch serves them all. */
const settleMs = 250;

/** Fetches an address, and again whenever the ledger grew or the connection came back. `null` fetches nothing. */
export function useResource<T>(address: string | null): Resource<T> {
  const [kept, setKept] = useState<{ address: string | null; value: T | null; problem: Problem | null }>({
    address,
    value: null,
    problem: null,
  });
  const [turn, setTurn] = useState(0);

  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const soon = () => {
      clearTimeout(timer);
      timer = setTimeout(() => setTurn((before) => before + 1), settleMs);
    };
    const ends = [
      live.ledger.watch(soon),
      live.connection.watch((connection) => connection === "open" && soon()),
    ];
    return () => {
      clearTimeout(timer);
      for (const end of ends) end();
    };
  }, []);

  // A new turn is the wish to fetch again
  useEffect(() => {
    if (address === null) return;
    let wanted = true;
    request<T>("GET", address).then(
      (value) => wanted && setKept({ address, value, problem: null }),
      (error: unknown) =>
        wanted &&
        setKept((before) => ({
          address,
          value: before.address === address ? before.value : null,
          problem: problemOf(error),
        })),
    );
    return () => {
      wanted = false;
    };
  }, [address, turn]);

  const current = kept.address === address ? kept : { value: null, problem: null };
  return {
    value: current.value,
    problem: current.problem,
    loading: address !== null && current.value === null && current.problem === null,
    reload: () => setTurn((before) => before + 1),
  };
}
