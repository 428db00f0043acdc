import { X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import { isIP } from "node:net";
import { InputError } from "../lab/input-error.ts";
import type { Lab } from "../lab/lab.ts";
import { peopleOf } from "../lab/people.ts";
import type { NetworkAccess } from "../server/routes.ts";

const loopback = new Set(["127.0.0.1", "::1", "localhost"]);

/**
 * What a server needs to be open to a network, or undefined for one on loopback.
 *
 * @throws InputError where the lab knows nobody who could sign in, or certificate and key are missing or do not belong together:
 * passwords and records never cross a network in the open
 */
export function networkAccess(
  lab: Pick<Lab, "store">,
  { host, certificate, key }: { host: string; certificate?: string; key?: string },
): NetworkAccess | undefined {
  if (loopback.has(host)) return undefined;
  const refuse = (words: string): never => {
    throw new InputError(`--host ${host} opens the bench to a network: ${words}`);
  };
  if (peopleOf(lab).length === 0)
    refuse("nobody can sign in yet; give a first person roles with `asfound people give`");
  if (certificate === undefined || key === undefined)
    return refuse(
      "accepted with --certificate FILE and --key FILE (PEM), so that nothing crosses it in the open",
    );
  const [certificateText, keyText] = [readFileSync(certificate, "utf8"), readFileSync(key, "utf8")];
  return { certificate: certificateText, key: keyText, names: namesIn(certificateText, certificate) };
}

/** Names and addresses that a certificate is for. */
function namesIn(text: string, file: string): string[] {
  let alternatives: string;
  try {
    alternatives = new X509Certificate(text).subjectAltName ?? "";
  } catch (error) {
    throw new InputError(`${file}: accepted is a certificate in PEM form: ${(error as Error).message}`);
  }
  const names = alternatives
    .split(", ")
    .flatMap((one) => /^(?:DNS|IP Address):(.+)$/.exec(one)?.[1] ?? [])
    .map((name) => (isIP(name) === 6 ? `[${name.toLowerCase()}]` : name.toLowerCase()));
  if (names.length === 0)
    throw new InputError(`${file}: names no host; accepted is a certificate with a subject alternative name`);
  return names;
}
