import { useEffect, useState } from "preact/hooks";
import { useSending } from "../forms/use-sending.ts";
import { addresses } from "../server/resources.ts";
import type { CaseWords } from "./case-words.ts";
import { fetchFile, fileName, type MadeFile } from "./fetch-file.ts";
import { MadeFileNote } from "./made-file.tsx";

/** Makes the package that anyone can check: whole and sealed, or for publication. */
export function PackageForm({ subject, name, label, caseText }: CaseWords) {
  const [publish, setPublish] = useState(false);
  const [file, setFile] = useState<MadeFile | null>(null);
  const sending = useSending();
  useEffect(() => () => void (file !== null && URL.revokeObjectURL(file.address)), [file]);

  async function send(event: Event) {
    event.preventDefault();
    setFile(null);
    const path = addresses.package({
      [subject.kind]: subject.id,
      label: label.trim(),
      case: caseText.trim(),
      publish: publish ? "true" : null,
    });
    // The name of a file that is published must not tell what its contents withhold.
    const called = publish ? `published-${subject.kind}.zip` : `package-${fileName(name)}.zip`;
    await sending.send(async () => setFile(await fetchFile(path, called)), "");
  }

  return (
    <section class="panel" aria-labelledby="package-title">
      <h2 id="package-title">Package (zip)</h2>
      <form noValidate onSubmit={send} class="form" aria-label="Make the package">
        <fieldset class="choices" aria-label="For whom">
          <button type="button" aria-pressed={!publish} onClick={() => setPublish(false)}>
            Sealed original
          </button>
          <button type="button" aria-pressed={publish} onClick={() => setPublish(true)}>
            For publication
          </button>
        </fieldset>
        <p>
          It holds the document, figures (SVG), tables (CSV), raw samples, records with their proofs of
          inclusion, the station's public key, the limit sets, and HOW-TO-CHECK.txt: checked with sha256sum
          and openssl, or with <code>asfound verify --package FILE</code>.
        </p>
        {publish ? (
          <div class="left-out">
            <h3>Left out or replaced</h3>
            <ul class="reasons">
              <li>
                Replaced by keyed codes, the same for the same text: labels, job, panel and circuit, codes of
                maker and type, names of people, numbers of certificates, serial numbers.
              </li>
              <li>
                Cut to the year: days on which something was received, confirmed, calibrated or entered.
              </li>
              <li>
                Left out: condition, notes and reasons, date codes, the lab's name, who issued certificates,
                the rig's address, and every field that is not known to be harmless.
              </li>
              <li>WITHHELD.csv in the package lists each, by entry and field.</li>
            </ul>
            <p class="hint">
              Exhibit label and case stand in it as you typed them: leave them empty where they name somebody.
            </p>
          </div>
        ) : (
          <p class="hint">Nothing is left out: names, places, serial numbers and notes are in it.</p>
        )}
        <div>
          <button type="submit" class="primary" disabled={sending.sending}>
            Make the package
          </button>
        </div>
        <MadeFileNote sending={sending} file={file} making="Making the package" />
      </form>
    </section>
  );
}
