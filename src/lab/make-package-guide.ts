import type { PackageFacts } from "./make-package-layout.ts";

/**
 * A plain text that tells how to check a package with common tools alone, and with this program.
 *
 * @param stampPaths files of time stamps in the package, below `data/`
 */
export function howToCheck(facts: PackageFacts, stampPaths: readonly string[]): string {
  const stamps = stampPaths.filter((path) => path.endsWith(".tsr")).map((path) => path.slice(0, -4));
  return `HOW TO CHECK THIS PACKAGE

It was made from the ledger of station ${facts.station} as of entry ${facts.head.sequence}.
Nothing below needs the program that made it, but for step 7. Work in the folder that holds bagit.txt.

What this can show: that nothing in the package was changed since the station signed it, that each record stood in the ledger,
and that readings and verdicts follow from the samples. What it cannot: that the key is the station's, or that the ledger was not
rewritten as a whole before. For these, compare the key and the head with copies that were given away earlier:

  key   ${facts.publicKey}
  head  ${facts.head.hash}

1. No file was changed

  sha256sum -c manifest-sha256.txt
  sha256sum -c tagmanifest-sha256.txt

2. The station signed the list of files

  openssl pkeyutl -verify -pubin -inkey data/station-key.pem -rawin \\
    -in manifest-sha256.txt -sigfile manifest-sha256.txt.sig

3. The station signed the root of the tree over all entries of its ledger (data/tree-head.txt: their number and the root)

  openssl pkeyutl -verify -pubin -inkey data/station-key.pem -rawin \\
    -in data/tree-head.txt -sigfile data/tree-head.sig

4. Each record has its hash, and stands in the ledger
${facts.published ? publishedRecords : sealedRecords}
5. The samples are those that were stored: for each file in data/blocks the first of these two must be among the second

  sha256sum data/blocks/*.bin
  grep -o '"samplesHash":"[0-9a-f]*"' data/records/*.json

   A block is one byte of kind, four bytes of length (big-endian), and that many bytes. data/samples holds the same samples for
   reading: t_s is the end of a window in seconds on the rig's clock, amps its true RMS current.
   A file in data/limits has the SHA-256 that stands as "limitSetHash" in the records of the tests that it decided.
${facts.published ? publishedPhotographs : sealedPhotographs}
6. The records were there when an authority stamped the ledger (RFC 3161)
${stamps.length === 0 ? noStamps : stampWords(stamps)}
7. Readings and verdicts follow from the samples (this needs the program)

  asfound verify --package . --key ${facts.publicKey}

   It does steps 1 to 6 too but for the authority's root, derives every reading and verdict again, and names the first thing that differs; exit code 1 then.
${facts.published ? publishedWords : ""}`;
}

const pathLines = `
import glob, hashlib, json

def sha(data): return hashlib.sha256(data).digest()

def root_from(leaf, index, size, path):              # RFC 9162, section 2.1.3.2
    node, last = sha(b"\\0" + leaf), size - 1
    for step in map(bytes.fromhex, path):
        if index % 2 == 1 or index == last:
            node = sha(b"\\1" + step + node)
            while index % 2 == 0 and index != 0: index //= 2; last //= 2
        else:
            node = sha(b"\\1" + node + step)
        index //= 2; last //= 2
    return node.hex() if last == 0 else None

root = open("data/tree-head.txt").read().split()[-1]
`;

const sealedRecords = `
   The hash of a record is the SHA-256 of its RFC 8785 canonical JSON without the members "hash" and "signature". The records
   are stored in canonical form; the lines below keep each number as it is written, and sort names as RFC 8785 does.
   Save them as check.py and run: python3 check.py
${pathLines}
class Raw(float):                                     # a number that prints as it was written
    def __new__(cls, text): self = float.__new__(cls, text); self.text = text; return self
def jcs(v):
    if isinstance(v, dict):
        names = sorted(v, key=lambda name: name.encode("utf-16-be"))
        return "{" + ",".join(jcs(n) + ":" + jcs(v[n]) for n in names) + "}"
    if isinstance(v, list): return "[" + ",".join(map(jcs, v)) + "]"
    return v.text if isinstance(v, Raw) else json.dumps(v, ensure_ascii=False)

for name in sorted(glob.glob("data/records/*.json")):
    record = json.load(open(name, encoding="utf-8"), parse_float=Raw, parse_int=Raw)
    proof = json.load(open(name.replace("records", "proofs")))
    bare = {n: v for n, v in record.items() if n not in ("hash", "signature")}
    assert sha(jcs(bare).encode()).hex() == record["hash"], name + ": altered"
    leaf = bytes.fromhex(record["hash"])
    assert root_from(leaf, proof["sequence"] - 1, proof["size"], proof["path"]) == root, name + ": not in the ledger"
    print(name, "holds")

   The member "signature" is the station's Ed25519 signature over the 32 bytes of the hash. For one record:

  python3 -c 'import json,sys; r=json.load(open(sys.argv[1])); open("h","wb").write(bytes.fromhex(r["hash"])); open("s","wb").write(bytes.fromhex(r["signature"]))' data/records/000001.json
  openssl pkeyutl -verify -pubin -inkey data/station-key.pem -rawin -in h -sigfile s
`;

const publishedRecords = `
   These are published copies: their content was changed, so that it does not have the hash. "hash" and "signature" are those of
   the sealed original, and the path from that hash to the root holds as it is. Save as check.py and run: python3 check.py
${pathLines}
for name in sorted(glob.glob("data/records/*.json")):
    record, proof = json.load(open(name, encoding="utf-8")), json.load(open(name.replace("records", "proofs")))
    leaf = bytes.fromhex(record["hash"])
    assert root_from(leaf, proof["sequence"] - 1, proof["size"], proof["path"]) == root, name + ": not in the ledger"
    print(name, "its original stands in the ledger")
`;

const sealedPhotographs = `
   A photograph in data/photographs has the SHA-256 that is its name and that stands as "photograph" in its record.
`;

const noStamps = `
   There is no stamp in this package.
`;

const stampWords = (stamps: readonly string[]): string => `
   An authority's answer (.tsr) stamps the statement beside it (.txt), with ROOT.pem got from the authority itself:

${stamps
  .map(
    (name) => `  openssl ts -verify -data data/${name}.txt -in data/${name}.tsr -CAfile ROOT.pem
  openssl ts -reply -in data/${name}.tsr -text
`,
  )
  .join("")}
   The second line shows whose stamp it is, and of what time. The statement names a root as data/tree-head.txt does, of the
   ledger as it was then; the file that ends in -proofs.json holds for each record that was there the path from its hash to that
   root. Records entered later are not covered. Add to check.py and run it again:

for name in sorted(glob.glob("data/time-stamps/*.txt")):
    stated = dict(line.split() for line in open(name).read().splitlines()[1:])
    for number, path in sorted(json.load(open(name[:-4] + "-proofs.json")).items()):
        leaf = bytes.fromhex(json.load(open("data/records/" + number + ".json", encoding="utf-8"))["hash"])
        found = root_from(leaf, int(number) - 1, int(stated["entries"]), path)
        assert found == stated["root"], number + ": not in what " + name + " states"
        print("record", number, "was there when", name, "was stamped")
`;

const publishedPhotographs = `
   A photograph in data/photographs is a copy of the picture alone, without what the camera wrote of place and time. Its name is
   the hash of the sealed original, not its own. The picture itself may still show names and numbers.
`;

const publishedWords = `
WHAT WAS LEFT OUT

Names, streets, serial numbers, notes and days were left out ("withheld"), replaced by keyed codes, or cut to the year;
data/WITHHELD.csv lists every field. What was pointed out in a chain of custody, such as a gap, is told with codes for names, its
times counted from the first event of the chain. The time of an authority's stamp is whole: no record is later than a stamp that
covers it. The same text has the same code in everything that this station publishes; a code is an
HMAC-SHA-256 under a key that the station keeps, so that a guess at an address cannot be tested against it.

What remains can still be proved: the hash of each original is in the signed tree, samples are whole and have the hash that the
record states, and readings and verdicts are derived again from them. That a copy says what its original says, where it says
anything, is shown by whoever holds the sealed package: the original has the hash that stands in the copy. A hash does let
someone test a guess at ALL of an original at once, to the millisecond of its entry.
`;
