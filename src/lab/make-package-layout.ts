/*
 * A package is a bag (RFC 8493). Below data/:
 *
 *   HOW-TO-CHECK.txt     how to check all of it without this program, and with it
 *   package.json         what it is, of which station, as of which entry
 *   station-key.pem      the station's public key
 *   tree-head.txt, .sig  size and root of the Merkle tree over the hashes of all entries, signed
 *   records/NNNNNN.json  entries, canonical; published copies where the package is published
 *   proofs/NNNNNN.json   the path (RFC 9162) from the hash of each entry to the root
 *   blocks/SHOT.bin      the stored blocks, whose SHA-256 stands in the entry that closed the shot
 *   samples/SHOT.csv     the same samples for reading: t_s, amps
 *   limits/SET.json      limit sets that verdicts were made by, canonical
 *   photographs/HASH.*   photographs, named by the hash that their record states; published ones hold the picture alone
 *   time-stamps/NNNNNN.* the authority's answer (.tsr), the statement that it stamps (.txt), and for each record that was there
 *                        then the path to the root in the statement
 *   exhibit.pdf, figures/*.svg, tables/*.csv
 *   WITHHELD.csv         only in a published package: what was left out
 *
 * Beside the files of RFC 8493 there is manifest-sha256.txt.sig, the station's signature over the manifest.
 */

/** What a package says of itself. */
export interface PackageFacts {
  format: "asfound-package-1";
  program: string;
  subject: { specimen: string } | { job: string };
  published: boolean;
  station: string;
  publicKey: string;
  head: { sequence: number; hash: string };
  /** Root of the Merkle tree over the 32 bytes of every entry's hash, in order. */
  root: string;
  /** Day of the newest entry, or its year. */
  asOf: string;
  shots: string[];
}

export const manifestSignatureName = "manifest-sha256.txt.sig";

/** The text that is signed for the tree; its first line keeps the signature from being taken for one over something else. */
export function treeHeadText(size: number, root: string): string {
  return `asfound tree head 1\nentries ${size}\nroot ${root}\n`;
}

/** What bag-info.txt says beside the size of the payload; it follows from the facts, so that a change is found. */
export function bagInfoOf(facts: PackageFacts): (readonly [string, string])[] {
  return [
    ["Bag-Software-Agent", `asfound ${facts.program}`],
    ...(facts.published ? [] : [["Bagging-Date", facts.asOf] as const]),
    ["External-Identifier", "specimen" in facts.subject ? facts.subject.specimen : facts.subject.job],
    ["Internal-Sender-Identifier", facts.station],
    [
      "External-Description",
      facts.published
        ? "Trip tests of circuit breakers, published copy with records withheld in part"
        : "Trip tests of circuit breakers, with records and proofs",
    ],
  ];
}
