import { SerialPort } from "serialport";

/** One serial port that this machine has; null where the machine does not know. */
export interface PortDescription {
  /** The address to give as a link. */
  address: string;
  path: string;
  manufacturer: string | null;
  serialNumber: string | null;
  vendorId: string | null;
  productId: string | null;
}

/**
 * The serial ports of this machine, by path. A port on this list may still be in use by another program.
 *
 * @throws Error if the machine cannot list its ports
 */
export async function listPorts(): Promise<PortDescription[]> {
  let found: Awaited<ReturnType<typeof SerialPort.list>>;
  try {
    found = await SerialPort.list();
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Error(`the serial ports cannot be listed (${why}); a path can still be given as serial:PATH`, {
      cause: error,
    });
  }
  return found
    .map((port) => ({
      address: `serial:${port.path}`,
      path: port.path,
      manufacturer: port.manufacturer ?? null,
      serialNumber: port.serialNumber ?? null,
      vendorId: port.vendorId ?? null,
      productId: port.productId ?? null,
    }))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
}
