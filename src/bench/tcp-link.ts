import { connect, type Socket } from "node:net";
import { LineSplitter } from "../../firmware-protocol/codec/line-splitter.ts";
import { type Link, LinkError } from "./link.ts";

/** Bytes that may wait for the operating system to take them; more means that the other end takes nothing. */
const mostWaiting = 2048;
const patienceMs = 5_000;

/** A rig behind a TCP port: a serial server, or an emulated rig that runs on its own. */
export class TcpLink implements Link {
  readonly address: string;
  readonly #host: string;
  readonly #port: number;
  #overrunsBefore = 0;
  #lines = new LineSplitter();
  #socket: Socket | null = null;
  #hearLine: (line: Uint8Array) => void = () => {};
  #hearLoss: (reason: string) => void = () => {};

  constructor(host: string, port: number) {
    this.address = `tcp:${host.includes(":") ? `[${host}]` : host}:${port}`;
    this.#host = host;
    this.#port = port;
  }

  get overruns(): number {
    return this.#overrunsBefore + this.#lines.overruns;
  }

  onLine(handler: (line: Uint8Array) => void): void {
    this.#hearLine = handler;
  }

  onLost(handler: (reason: string) => void): void {
    this.#hearLoss = handler;
  }

  async open(): Promise<void> {
    if (this.#socket !== null) throw new LinkError(this.address, "is open already");
    const socket = connect({ host: this.#host, port: this.#port, noDelay: true, keepAlive: true });
    await new Promise<void>((resolve, reject) => {
      const giveUp = (why: string): void => {
        socket.removeAllListeners();
        socket.on("error", () => {});
        socket.destroy();
        reject(new LinkError(this.address, why));
      };
      socket.setTimeout(patienceMs, () => giveUp(`nothing answered within ${patienceMs / 1000} s`));
      socket.once("error", (error: NodeJS.ErrnoException) => giveUp(whyNotConnected(error)));
      socket.once("connect", () => {
        socket.setTimeout(0);
        socket.removeAllListeners();
        resolve();
      });
    });
    this.#overrunsBefore += this.#lines.overruns;
    this.#lines = new LineSplitter();
    this.#socket = socket;
    socket.on("data", (chunk) => {
      for (const line of this.#lines.push(chunk)) if (this.#socket === socket) this.#hearLine(line);
    });
    socket.on("error", (error) => this.#lose(socket, error.message));
    socket.on("close", () => this.#lose(socket, "the other end closed the connection"));
  }

  write(bytes: Uint8Array): void {
    const socket = this.#socket;
    if (socket === null || socket.readyState !== "open")
      throw new LinkError(this.address, "is not open; nothing was written and nothing is kept for later");
    if (socket.writableLength + bytes.length > mostWaiting) {
      this.#lose(socket, "the other end takes no more bytes");
      throw new LinkError(this.address, "takes no more bytes; the connection was given up");
    }
    socket.write(bytes);
  }

  async close(): Promise<void> {
    const socket = this.#socket;
    this.#socket = null;
    if (socket === null || socket.destroyed) return;
    // Ended, not destroyed, so that a last STOP still leaves; destroyed after a moment in case nobody takes it.
    await new Promise<void>((resolve) => {
      const giveUp = setTimeout(() => socket.destroy(), 500);
      socket.once("close", () => {
        clearTimeout(giveUp);
        resolve();
      });
      socket.end();
      socket.destroySoon();
    });
  }

  #lose(socket: Socket, reason: string): void {
    if (this.#socket !== socket) return;
    this.#socket = null;
    socket.destroy();
    this.#hearLoss(`${this.address}: ${reason}`);
  }
}

function whyNotConnected(error: NodeJS.ErrnoException): string {
  if (error.code === "ECONNREFUSED") return "nothing listens there; start the rig, or name another port";
  if (error.code === "ENOTFOUND" || error.code === "EAI_AGAIN")
    return "there is no host of that name; check the name, or give its number";
  return `cannot be reached (${error.message})`;
}
