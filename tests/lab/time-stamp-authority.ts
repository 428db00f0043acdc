import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const configuration = (name: string) => `
[req]
distinguished_name = dn
prompt = no
[dn]
CN = ${name}
[authority]
basicConstraints = critical,CA:FALSE
keyUsage = critical,digitalSignature
extendedKeyUsage = critical,timeStamping
[tsa]
serial = serial
crypto_device = builtin
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256
accuracy = secs:1
ordering = no
tsa_name = yes
ess_cert_id_chain = no
ess_cert_id_alg = sha256
`;

/** A time stamp authority of the openssl tool, in a folder of its own, with a root that signs for itself. */
export class TimeStampAuthority {
  readonly folder: string;
  readonly root: string;

  constructor(folder: string, name = "Invented time stamp authority") {
    this.folder = folder;
    this.root = join(folder, "root.pem");
    writeFileSync(join(folder, "tsa.cnf"), configuration(name));
    writeFileSync(join(folder, "serial"), "01\n");
    this.openssl(
      ...["req", "-x509", "-newkey", "rsa:2048", "-nodes", "-keyout", "tsa.key", "-out", "root.pem"],
      ...["-days", "3650", "-config", "tsa.cnf", "-extensions", "authority"],
    );
  }

  /** Runs openssl in the folder; gives what it prints on both streams, throws where it fails. */
  openssl(...args: string[]): string {
    return execFileSync("sh", ["-c", 'exec openssl "$@" 2>&1', "sh", ...args], {
      cwd: this.folder,
      encoding: "utf8",
    });
  }

  /** The answer to a request. */
  answer(request: Uint8Array): Uint8Array {
    writeFileSync(join(this.folder, "asked.tsq"), request);
    this.openssl(
      ...["ts", "-reply", "-config", "tsa.cnf", "-section", "tsa", "-queryfile", "asked.tsq"],
      ...["-signer", "root.pem", "-inkey", "tsa.key", "-out", "answer.tsr"],
    );
    return readFileSync(join(this.folder, "answer.tsr"));
  }
}
