import {
  createPrivateKey,
  createPublicKey,
  sign as edSign,
  verify as edVerify,
  generateKeyPairSync,
  type KeyObject,
} from "node:crypto";
import {
  closeSync,
  existsSync,
  fchmodSync,
  fsyncSync,
  openSync,
  readFileSync,
  statSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import { bytesOfHex, hexOfBytes } from "../core/evidence/hex-bytes.ts";
import type { SignatureCheck } from "../core/evidence/signature.ts";
import { StoreError } from "./store-error.ts";

/** Name of the file that holds the station's secret key, in PKCS #8 PEM form. */
export const keyFileName = "station-key.pem";

/** The station's key: signs with the secret part, which does not leave this object. */
export interface StationKey {
  /** Ed25519 public key, 64 hex digits. */
  publicKey: string;
  /** Signature over `message`, 128 hex digits. */
  sign(message: Uint8Array): string;
}

/** Makes a new key and writes it, for its owner's eyes only. Never replaces a file. */
export function createStationKey(dataDir: string): StationKey {
  const { privateKey } = generateKeyPairSync("ed25519");
  const file = openSync(join(dataDir, keyFileName), "wx", 0o600);
  try {
    fchmodSync(file, 0o600);
    writeSync(file, privateKey.export({ type: "pkcs8", format: "pem" }) as string);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  return keyOf(privateKey);
}

/** Whether the data directory holds a key file, good or bad. */
export function hasStationKey(dataDir: string): boolean {
  return existsSync(join(dataDir, keyFileName));
}

/**
 * Reads the station's key.
 *
 * @throws StoreError `key` where the file is missing, can be read by others than its owner, or is not an Ed25519 key
 */
export function readStationKey(dataDir: string): StationKey {
  const path = join(dataDir, keyFileName);
  if (!existsSync(path))
    throw new StoreError("key", `${path} is missing: restore it from a backup, entries are signed with it`);
  const mode = statSync(path).mode & 0o777;
  if (process.platform !== "win32" && (mode & 0o077) !== 0)
    throw new StoreError(
      "key",
      `${path} has mode ${mode.toString(8)} and is open to others; accepted is 600: run chmod 600 on it`,
    );
  return keyOf(parse(path));
}

/** Public part of the key file, whatever its permissions: for checks that only compare. */
export function publicKeyInFile(dataDir: string): string {
  return publicKeyOf(parse(join(dataDir, keyFileName)));
}

/** The same check as `core/evidence/signature.ts`, by the platform's own and faster implementation. */
export const verifyFast: SignatureCheck = (message, signature, publicKey) => {
  const signatureBytes = bytesOfHex(signature, 64);
  const keyBytes = bytesOfHex(publicKey, 32);
  if (signatureBytes === null || keyBytes === null) return false;
  try {
    const key = createPublicKey({
      key: { kty: "OKP", crv: "Ed25519", x: Buffer.from(keyBytes).toString("base64url") },
      format: "jwk",
    });
    return edVerify(null, message, key, signatureBytes);
  } catch {
    return false;
  }
};

function parse(path: string): KeyObject {
  let key: KeyObject;
  try {
    key = createPrivateKey(readFileSync(path, "utf8"));
  } catch (error) {
    throw new StoreError("key", `${path} is not a readable key: ${(error as Error).message}`, error);
  }
  if (key.asymmetricKeyType !== "ed25519")
    throw new StoreError("key", `${path} holds a key of type ${key.asymmetricKeyType}; accepted is ed25519`);
  return key;
}

function publicKeyOf(secret: KeyObject): string {
  const { x } = createPublicKey(secret).export({ format: "jwk" });
  return hexOfBytes(Buffer.from(x ?? "", "base64url"));
}

function keyOf(secret: KeyObject): StationKey {
  return {
    publicKey: publicKeyOf(secret),
    sign: (message) => edSign(null, message, secret).toString("hex"),
  };
}
