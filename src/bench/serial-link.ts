import { ReadlineParser } from "@serialport/parser-readline";
import { SerialPort } from "serialport";
import { longestLineBytes } from "../../firmware-protocol/messages.ts";
import { EndlessLineGuard } from "./endless-line-guard.ts";
import { type Link, LinkError } from "./link.ts";

/** Bytes that may wait for the operating system to take them; more means that the other end takes nothing. */
const mostWaiting = 2048;

/**
 * A rig on a serial port, or on anything that the operating system shows as one.
 *
 * The port library keeps what is written while a port is closed and sends it on reopening; so this link refuses to
 * write unless the port is open, and drops the port object, with all that it holds, after every loss.
 */
export class SerialLink implements Link {
  readonly address: string;
  readonly #path: string;
  readonly #baud: number;
  #overrunsBefore = 0;
  #guard: EndlessLineGuard | null = null;
  #port: SerialPort | null = null;
  #hearLine: (line: Uint8Array) => void = () => {};
  #hearLoss: (reason: string) => void = () => {};

  constructor(path: string, baud: number) {
    this.address = `serial:${path}?baud=${baud}`;
    this.#path = path;
    this.#baud = baud;
  }

  get overruns(): number {
    return this.#overrunsBefore + (this.#guard?.overruns ?? 0);
  }

  onLine(handler: (line: Uint8Array) => void): void {
    this.#hearLine = handler;
  }

  onLost(handler: (reason: string) => void): void {
    this.#hearLoss = handler;
  }

  async open(): Promise<void> {
    if (this.#port !== null) throw new LinkError(this.address, "is open already");
    const port = new SerialPort({ path: this.#path, baudRate: this.#baud, autoOpen: false });
    await new Promise<void>((resolve, reject) => {
      port.open((error) => {
        if (error) reject(new LinkError(this.address, this.#whyNotOpened(error.message)));
        else resolve();
      });
    });
    this.#port = port;
    const guard = new EndlessLineGuard(longestLineBytes);
    this.#guard = guard;
    const lines = new ReadlineParser({ delimiter: "\n", encoding: "latin1" });
    lines.on("data", (line: string) => this.#hearLine(Buffer.from(line, "latin1")));
    port.pipe(guard).pipe(lines);
    port.on("close", (error: Error | null) => this.#lose(port, error?.message ?? "the port was closed"));
    port.on("error", (error) => this.#lose(port, error.message));
    port.on("end", () => this.#lose(port, "the port ended"));
  }

  write(bytes: Uint8Array): void {
    const port = this.#port;
    if (port === null || !port.isOpen)
      throw new LinkError(this.address, "is not open; nothing was written and nothing is kept for later");
    if (port.writableLength + bytes.length > mostWaiting) {
      this.#lose(port, "the port takes no more bytes");
      throw new LinkError(this.address, "takes no more bytes; the port was given up");
    }
    port.write(Buffer.from(bytes), (error) => {
      if (error) this.#lose(port, error.message);
    });
  }

  async close(): Promise<void> {
    const port = this.#drop();
    if (port?.isOpen === true) await new Promise<void>((resolve) => port.close(() => resolve()));
    port?.destroy();
  }

  #lose(port: SerialPort, reason: string): void {
    if (this.#port !== port) return;
    void this.close();
    this.#hearLoss(`${this.address}: ${reason}`);
  }

  /** Takes the port out of use: no line of it is heard any more, and no write can reach it. */
  #drop(): SerialPort | null {
    const port = this.#port;
    this.#port = null;
    if (port === null) return null;
    port.unpipe();
    port.removeAllListeners();
    port.on("error", () => {});
    this.#overrunsBefore = this.overruns;
    this.#guard?.removeAllListeners();
    this.#guard?.destroy();
    this.#guard = null;
    return port;
  }

  #whyNotOpened(message: string): string {
    if (/lock|busy|temporarily unavailable|access denied/i.test(message))
      return `the port is busy: another program has it open (${message}); close that program or name another port`;
    if (/no such file|not found|cannot find/i.test(message))
      return `there is no such port (${message}); list the ports that are there and check the cable`;
    if (/permission/i.test(message))
      return `this user may not open the port (${message}); on Linux the user must be in the port's group`;
    return `cannot be opened as a serial port at ${this.#baud} baud (${message})`;
  }
}
