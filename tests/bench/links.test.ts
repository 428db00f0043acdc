import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodeLine } from "../../firmware-protocol/codec/decode-line.ts";
import { encodeLine } from "../../firmware-protocol/codec/encode-line.ts";
import { breakerByName } from "../../firmware-protocol/emulated-rig/built-in-breakers.ts";
import { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";
import type { HostMessage } from "../../firmware-protocol/messages.ts";
import { EmulatedLink } from "../../src/bench/emulated-link.ts";
import { type Link, LinkError } from "../../src/bench/link.ts";
import { listPorts } from "../../src/bench/list-ports.ts";
import { offerEmulatedRig } from "../../src/bench/offer-emulated-rig.ts";
import { SerialLink } from "../../src/bench/serial-link.ts";
import { TcpLink } from "../../src/bench/tcp-link.ts";
import { withoutSocat } from "./without-socat.ts";

const rigOptions = { seed: 1, speed: 50, breaker: breakerByName("sound") };

interface Place {
  rig: EmulatedRig;
  link: Link;
  close(): Promise<void>;
}

const folder = mkdtempSync(join(tmpdir(), "asfound-links-"));
afterAll(() => rmSync(folder, { recursive: true }));

async function emulatedPlace(): Promise<Place> {
  const link = new EmulatedLink(rigOptions);
  return { rig: link.rig, link, close: () => link.close() };
}

async function tcpPlace(): Promise<Place> {
  const rig = new EmulatedRig(rigOptions);
  const offer = await offerEmulatedRig(rig, { tcp: 0 });
  const link = new TcpLink("127.0.0.1", Number(offer.address.split(":").at(-1)));
  return {
    rig,
    link,
    close: async () => {
      await link.close();
      await offer.close();
    },
  };
}

async function ptyPlace(): Promise<Place> {
  const rig = new EmulatedRig(rigOptions);
  const path = join(folder, "rig");
  const offer = await offerEmulatedRig(rig, { pty: path });
  const link = new SerialLink(path, 115_200);
  return {
    rig,
    link,
    close: async () => {
      await link.close();
      await offer.close();
    },
  };
}

const kinds: [string, () => Promise<Place>, string | false][] = [
  ["in this process", emulatedPlace, false],
  ["over TCP", tcpPlace, false],
  ["over a pseudo-terminal", ptyPlace, withoutSocat],
];

/** Waits until `look` gives something. */
async function until<T>(look: () => T | undefined, words: string): Promise<T> {
  for (let tries = 0; tries < 500; tries += 1) {
    const found = look();
    if (found !== undefined) return found;
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error(`waited in vain for ${words}`);
}

describe.each(kinds)("a link %s", (_, make, skip) => {
  if (skip !== false) {
    it.runIf(process.env.ASFOUND_NO_SKIPS === "1")("has what it needs", () => expect.fail(skip));
    return;
  }
  let place: Place;
  let lines: Uint8Array[];
  let losses: string[];
  let sequence = 0;
  const say = (message: HostMessage) => {
    place.link.write(encodeLine(sequence, message));
    sequence += 1;
  };
  const heard = (verb: string) => () =>
    lines.map((line) => decodeLine(line)).find((line) => line.ok && line.message.verb === verb);

  beforeAll(async () => {
    place = await make();
    return () => place.close();
  });
  const begin = () => {
    lines = [];
    losses = [];
    place.link.onLine((line) => lines.push(line.slice()));
    place.link.onLost((reason) => losses.push(reason));
  };

  it("refuses to write before it is open, and keeps nothing for later", async () => {
    begin();
    expect(() => say({ verb: "HELLO", version: 1 })).toThrow(LinkError);
    expect(() => say({ verb: "HELLO", version: 1 })).toThrow(/not open; nothing was written/);
    await place.link.open();
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(heard("IDENT")()).toBeUndefined();
  });

  it("refuses to be opened twice", async () => {
    await expect(place.link.open()).rejects.toThrow(/is open already/);
  });

  it("carries lines both ways, whole and without their newline", async () => {
    begin();
    say({ verb: "HELLO", version: 1 });
    await until(() => (lines.length >= 18 ? true : undefined), "the identification");
    for (const line of lines) expect(line.includes(0x0a)).toBe(false);
    const items = lines.map((line) => decodeLine(line)).map((line) => line.ok && line.message);
    expect(items).toContainEqual({ verb: "IDENT", item: "protocol", value: "1" });
  });

  it("says nothing and loses nothing on being closed, and can be closed again", async () => {
    begin();
    await place.link.close();
    await place.link.close();
    expect(losses).toEqual([]);
    expect(() => say({ verb: "BEAT" })).toThrow(LinkError);
  });

  it("can be opened again after closing", async () => {
    begin();
    await place.link.open();
    say({ verb: "BEAT" });
    await until(heard("STATE"), "a state");
    await place.link.close();
  });

  it("tells once that the cable was pulled, and a line written after it never arrives, not even after reopening", async () => {
    begin();
    await place.link.open();
    say({ verb: "BEAT" });
    await until(heard("STATE"), "a state");
    place.rig.pullCable();
    await until(() => losses[0], "the loss");
    expect(() => say({ verb: "HELLO", version: 1 })).toThrow(LinkError);
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(losses).toHaveLength(1);
    lines = [];
    // The far end of a pseudo-terminal is made anew; until it is, opening fails or reaches the one that is going away.
    for (let tries = 0; tries < 60 && heard("STATE")() === undefined; tries += 1) {
      await place.link.close();
      await place.link
        .open()
        .then(() => say({ verb: "BEAT" }))
        .catch(() => undefined);
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    await until(heard("STATE"), "a state after reopening");
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(heard("IDENT")()).toBeUndefined();
    await place.link.close();
  });
});

describe("what cannot be opened", () => {
  it("is named when nothing listens at a TCP port", async () => {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address() as { port: number };
    await new Promise((resolve) => server.close(resolve));
    await expect(new TcpLink("127.0.0.1", port).open()).rejects.toThrow(
      /nothing listens there; start the rig/,
    );
  });

  it("is named when there is no such serial port", async () => {
    await expect(new SerialLink(join(folder, "nowhere"), 9600).open()).rejects.toThrow(/no such port/);
  });

  it("is named when a file is no serial port", async () => {
    await expect(new SerialLink("/dev/null", 115_200).open()).rejects.toThrow(
      /cannot be opened as a serial port/,
    );
  });

  it("can be opened once the trouble is over", async () => {
    const rig = new EmulatedRig(rigOptions);
    const first = await offerEmulatedRig(rig, { tcp: 0 });
    const port = Number(first.address.split(":").at(-1));
    await first.close();
    const link = new TcpLink("127.0.0.1", port);
    await expect(link.open()).rejects.toThrow(LinkError);
    const again = await offerEmulatedRig(new EmulatedRig(rigOptions), { tcp: port });
    await link.open();
    await link.close();
    await again.close();
  });

  it.runIf(withoutSocat === false)("is named when another program has the port", async () => {
    const path = join(folder, "busy");
    const offer = await offerEmulatedRig(new EmulatedRig(rigOptions), { pty: path });
    const first = new SerialLink(path, 115_200);
    await first.open();
    await expect(new SerialLink(path, 115_200).open()).rejects.toThrow(/busy: another program has it open/);
    await first.close();
    await offer.close();
  });
});

describe("offerEmulatedRig", () => {
  it("turns a second host away while one is there, and takes the next when it has left", async () => {
    const offer = await offerEmulatedRig(new EmulatedRig(rigOptions), { tcp: 0 });
    const port = Number(offer.address.split(":").at(-1));
    const first = connect(port, "127.0.0.1");
    await new Promise((resolve) => first.once("connect", resolve));
    await new Promise((resolve) => setTimeout(resolve, 30));
    const second = new TcpLink("127.0.0.1", port);
    const losses: string[] = [];
    second.onLost((reason) => losses.push(reason));
    await second.open();
    await until(() => losses[0], "being turned away");
    first.destroy();
    await new Promise((resolve) => setTimeout(resolve, 30));
    await second.open();
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(losses).toHaveLength(1);
    await second.close();
    await offer.close();
  });

  it("says so when the port is taken", async () => {
    const offer = await offerEmulatedRig(new EmulatedRig(rigOptions), { tcp: 0 });
    const port = Number(offer.address.split(":").at(-1));
    await expect(offerEmulatedRig(new EmulatedRig(rigOptions), { tcp: port })).rejects.toThrow(
      /the port is taken/,
    );
    await offer.close();
  });

  it("leaves what is at the path of a pseudo-terminal alone", async () => {
    await expect(offerEmulatedRig(new EmulatedRig(rigOptions), { pty: folder })).rejects.toThrow(
      /something else is there/,
    );
  });

  it("says so when socat is missing", async () => {
    const path = process.env.PATH;
    process.env.PATH = folder;
    try {
      await expect(
        offerEmulatedRig(new EmulatedRig(rigOptions), { pty: join(folder, "none") }),
      ).rejects.toThrow(/socat is not installed/);
    } finally {
      process.env.PATH = path;
    }
  });

  it.runIf(withoutSocat === false)(
    "takes the place of a terminal that died, but not of one that lives",
    async () => {
      const path = join(folder, "left");
      symlinkSync(join(folder, "nothing"), path);
      const offer = await offerEmulatedRig(new EmulatedRig(rigOptions), { pty: path });
      await expect(offerEmulatedRig(new EmulatedRig(rigOptions), { pty: path })).rejects.toThrow(
        /something else is there/,
      );
      await offer.close();
    },
  );

  it.runIf(withoutSocat === false)("leaves no terminal and no socat behind", async () => {
    const path = join(folder, "gone");
    const offer = await offerEmulatedRig(new EmulatedRig(rigOptions), { pty: path });
    expect(execFileSync("ls", ["-l", path]).toString()).toContain("/dev/pts/");
    await offer.close();
    expect(() => execFileSync("ls", [path], { stdio: "pipe" })).toThrow();
  });
});

describe("listPorts", () => {
  it("gives plain objects whose addresses can be opened as links", async () => {
    for (const port of await listPorts()) {
      expect(port.address).toBe(`serial:${port.path}`);
      expect(JSON.parse(JSON.stringify(port))).toEqual(port);
    }
  });
});
