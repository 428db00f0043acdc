import { type ChildProcess, spawn } from "node:child_process";
import { closeSync, constants, existsSync, lstatSync, openSync, unlinkSync } from "node:fs";
import type { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";

/** Bytes that may wait for a host that does not read; what the rig says beyond is lost, as on a wire. */
const mostWaiting = 64 * 1024;
const patienceMs = 5_000;
const pluggedInAgainMs = 300;

/**
 * Offers a rig behind a real pseudo-terminal at `path`, made by the program `socat`. When the rig's cable is pulled the
 * terminal vanishes, and comes back a moment later as a new one, as a USB adapter does.
 */
export async function offerOnPty(
  rig: EmulatedRig,
  path: string,
): Promise<{ address: string; close(): Promise<void> }> {
  freePath(path);
  let closed = false;
  let terminal: Terminal | null = null;
  let again: NodeJS.Timeout | null = null;
  const gone = (): void => {
    const before = terminal;
    terminal = null;
    again = setTimeout(async () => {
      await before?.end();
      if (closed) return;
      const made = await makeTerminal(rig, path, gone).catch(() => null);
      if (closed) await made?.end();
      else terminal = made;
      rig.plugCable();
    }, pluggedInAgainMs);
    void before?.end();
  };
  terminal = await makeTerminal(rig, path, gone);
  rig.onBytes((bytes) => terminal?.write(bytes));
  rig.onCablePulled(gone);
  return {
    address: `serial:${path}`,
    close: async () => {
      closed = true;
      if (again !== null) clearTimeout(again);
      await terminal?.end();
      terminal = null;
    },
  };
}

/** Takes away what an offer that was killed left behind; anything else is left alone. */
function freePath(path: string): void {
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (found === undefined) return;
  if (!found.isSymbolicLink() || existsSync(path))
    throw new Error(
      `the pseudo-terminal cannot be made at ${path}: something else is there; name a path that is free`,
    );
  unlinkSync(path);
}

interface Terminal {
  write(bytes: Uint8Array): void;
  end(): Promise<void>;
}

/** @param ended called if the terminal ends without having been told to */
async function makeTerminal(rig: EmulatedRig, path: string, ended: () => void): Promise<Terminal> {
  const socat = spawn("socat", [`PTY,link=${path},rawer`, "STDIO"], { stdio: ["pipe", "pipe", "pipe"] });
  let words = "";
  socat.stderr.on("data", (chunk) => {
    words = `${words}${chunk}`.slice(-500);
  });
  socat.stdin.on("error", () => {});
  await untilThere(socat, path, () => words);
  // Held open by us too, or the terminal would end when a host closes it.
  const held = openSync(path, constants.O_RDWR | constants.O_NOCTTY | constants.O_NONBLOCK);
  let open = true;
  socat.stdout.on("data", (bytes) => {
    if (open) rig.receive(bytes);
  });
  const gone = new Promise<void>((resolve) => {
    socat.once("close", () => {
      if (open) {
        open = false;
        closeSync(held);
        ended();
      }
      resolve();
    });
  });
  return {
    write: (bytes) => {
      if (open && socat.stdin.writableLength < mostWaiting) socat.stdin.write(bytes);
    },
    end: async () => {
      if (open) {
        open = false;
        closeSync(held);
        socat.kill("SIGTERM");
      }
      await gone;
    },
  };
}

async function untilThere(socat: ChildProcess, path: string, words: () => string): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    const begun = performance.now();
    const fail = (why: string): void => {
      clearInterval(look);
      socat.kill("SIGTERM");
      reject(new Error(`the pseudo-terminal cannot be made at ${path}: ${why}`));
    };
    const look = setInterval(() => {
      if (existsSync(path)) {
        clearInterval(look);
        socat.removeAllListeners("error").removeAllListeners("exit");
        socat.on("error", () => {});
        resolve();
      } else if (performance.now() - begun > patienceMs)
        fail(`socat made none within ${patienceMs / 1000} s`);
    }, 10);
    socat.once("error", (error: NodeJS.ErrnoException) =>
      fail(
        error.code === "ENOENT"
          ? "the program socat is not installed; install it, or offer the rig on a TCP port"
          : error.message,
      ),
    );
    socat.once("exit", (code) => fail(`socat ended with code ${code}: ${words().trim()}`));
  });
}
