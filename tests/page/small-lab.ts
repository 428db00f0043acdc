import type { ChildProcess } from "node:child_process";
import type { SpecimenView } from "../../src/contract/http.ts";
import type { Loading, Specimen } from "../../src/core/specimen/specimen.ts";
import { firstDocument, startAsfound, workplace } from "../system/asfound.ts";

/** The real program on a data directory of its own, with an emulated rig and whatever a test puts in. */
export interface SmallLab {
  page: string;
  get<T>(path: string): Promise<T>;
  post<T>(path: string, body: unknown): Promise<T>;
  receive(details: Partial<Specimen> & { label: string }): Promise<SpecimenView>;
  /** Drives one test to its end. */
  shoot(specimen: string, multiple: number, loading?: Loading): Promise<void>;
  close(): Promise<void>;
}

/**
 * Starts it. Specimens are 20 A, one pole, 120 V where nothing else is said. The emulated rig's clock runs `speed` times faster than the
 * wall: at 500, a test of two minutes takes a fraction of a second.
 */
export async function openSmallLab(speed = 500): Promise<SmallLab> {
  const place = workplace();
  const program = startAsfound([
    ...["start", "--data", place.data, "--empty", "--lab", "Test lab", "--port", "0", "--json"],
    ...["--link", `emulated?speed=${speed}&seed=7`],
  ]);
  const { page } = (await firstDocument(program)) as { page: string };
  const ask = async <T>(path: string, body?: unknown): Promise<T> => {
    const answer = await fetch(new URL(path, page), {
      method: body === undefined ? "GET" : "POST",
      ...(body === undefined
        ? {}
        : { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
    });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${path}: ${text}`);
    return JSON.parse(text) as T;
  };
  return {
    page,
    get: (path) => ask(path),
    post: (path, body) => ask(path, body),
    receive: (details) => ask("/api/specimens", { ratedAmps: 20, poles: 1, volts: 120, ...details }),
    async shoot(specimen, multiple, loading = "pole-1") {
      const wish = { specimen, limitSet: "ul-489-calibration", multiple, loading, confirmedSafe: true };
      await ask("/api/shots", wish);
      for (let wait = 0; wait < 600; wait++) {
        await new Promise((resume) => setTimeout(resume, 50));
        if ((await ask("/api/shots/current")) === null) return;
      }
      throw new Error(`the test on ${specimen} did not end`);
    },
    async close() {
      await ended(program);
      place.remove();
    },
  };
}

async function ended(program: ChildProcess): Promise<void> {
  if (program.exitCode !== null) return;
  await new Promise((resume) => {
    program.once("exit", resume);
    program.kill("SIGTERM");
  });
}
