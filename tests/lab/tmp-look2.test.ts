import { writeFileSync } from "node:fs";
import { it } from "vitest";
import { amendEntry } from "../../src/lab/amendments.ts";
import { makeExhibit } from "../../src/lab/make-exhibit.ts";
import { releaseRecord, reviewRecord } from "../../src/lab/reviews.ts";
import { HandledLab } from "./handled-lab.ts";
it("exhibit", async () => {
  const r = new HandledLab();
  r.shot(r.specimen, { at: 2000, multiple: 2, loading: "pole-1", seconds: 40 });
  r.setClock(3000);
  const about = { kind: "specimen", id: r.specimen };
  reviewRecord(r.lab, { about, finding: "accepted", by: "R. Reviewer" }, "x");
  releaseRecord(r.lab, { about, by: "R. Reviewer" }, "x");
  const received = [...r.lab.store.ledger.entries({ kind: "specimen-received" })][0]!;
  amendEntry(r.lab, { entry: received.sequence, path: "/details/condition", before: "sooty", after: "sooty, cracked at the left", why: "seen on the photograph", by: "clerk" }, "x");
  writeFileSync("/tmp/out/exhibit.pdf", (await makeExhibit(r.lab, { specimen: r.specimen }, { label: "Exhibit A" })).pdf);
  r.remove();
});
