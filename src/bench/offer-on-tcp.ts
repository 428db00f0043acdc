import { createServer, type Socket } from "node:net";
import type { EmulatedRig } from "../../firmware-protocol/emulated-rig/emulated-rig.ts";

/** Bytes that may wait for a host that does not read; what the rig says beyond is lost, as on a wire. */
const mostWaiting = 1 << 20;

/** Offers a rig on a TCP port; a second host is turned away while one is there. */
export async function offerOnTcp(
  rig: EmulatedRig,
  port: number,
  host: string,
): Promise<{ address: string; close(): Promise<void> }> {
  let guest: Socket | null = null;
  const server = createServer({ noDelay: true }, (socket) => {
    socket.on("error", () => {});
    if (guest !== null) {
      socket.destroy();
      return;
    }
    guest = socket;
    rig.plugCable();
    socket.on("data", (bytes) => {
      if (guest === socket) rig.receive(bytes);
    });
    socket.on("close", () => {
      if (guest === socket) guest = null;
    });
  });
  rig.onBytes((bytes) => {
    if (guest !== null && guest.writableLength < mostWaiting) guest.write(bytes);
  });
  rig.onCablePulled(() => {
    guest?.destroy();
    guest = null;
  });
  await new Promise<void>((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => {
      const why =
        error.code === "EADDRINUSE" ? "the port is taken; name another, or 0 for any" : error.message;
      reject(new Error(`the emulated rig cannot be offered at tcp:${host}:${port}: ${why}`));
    });
    server.listen(port, host, resolve);
  });
  const bound = server.address();
  if (bound === null || typeof bound === "string") throw new Error("the TCP server has no port");
  return {
    address: `tcp:${host.includes(":") ? `[${host}]` : host}:${bound.port}`,
    close: () =>
      new Promise((resolve) => {
        guest?.destroy();
        server.close(() => resolve());
      }),
  };
}
