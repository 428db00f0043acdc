import { mkdirSync, writeFileSync } from "node:fs";
import { it } from "vitest";
import { makeLetter } from "../../src/lab/make-letter.ts";
import { makeLabels } from "../../src/lab/make-labels.ts";
import { RecordedLab } from "./recorded-lab.ts";

it("letter", async () => {
  mkdirSync("/tmp/out", { recursive: true });
  const r = new RecordedLab();
  for (let i = 0; i < 14; i += 1) {
    const s = r.receive({
      label: `KS-${i + 1}`,
      poles: i % 3 === 0 ? 2 : 1,
      job: "9 Invented Street",
      panel: "cellar, left of the stairs",
      circuit: String(i + 1),
      selection: i % 2 ? "on suspicion" : "unknown",
    });
    if (i !== 5)
      r.shot(s, { at: i * 100, multiple: 2, loading: "pole-1", seconds: i % 4 === 0 ? null : 30 + i });
  }
  writeFileSync(
    "/tmp/out/letter-job.pdf",
    (await makeLetter(r.lab, { job: "9 Invented Street" }, "Mr and Mrs Invented")).pdf,
  );
  const [one, , third] = r.lab.store.records.specimens();
  writeFileSync(
    "/tmp/out/letter-one.pdf",
    (await makeLetter(r.lab, { specimen: third!.specimen }, null)).pdf,
  );
  writeFileSync("/tmp/out/letter-fail.pdf", (await makeLetter(r.lab, { specimen: one!.specimen }, null)).pdf);
  writeFileSync("/tmp/out/labels.pdf", (await makeLabels(r.lab, "all", 20)).pdf);
  r.remove();
});
