import { addCustodyEvent } from "../../src/lab/custody.ts";
import { passGate } from "../../src/lab/gate.ts";
import { openJob } from "../../src/lab/jobs.ts";
import { addPhotograph } from "../../src/lab/photographs.ts";
import { jpegWithPlaces, png } from "./pictures.ts";
import { RecordedLab, timeAt } from "./recorded-lab.ts";

export const invented = { job: "9 Invented Street", person: "I. Invented", seal: "SEAL-77" } as const;

/** An invented job with one specimen that was handled as a careful lab would: removal, custody, photographs, gate. */
export class HandledLab extends RecordedLab {
  readonly specimen: string;

  constructor() {
    super();
    const { job, person, seal } = invented;
    const by = "clerk";
    this.setClock(1000);
    openJob(
      this.lab,
      {
        ...{ job, site: "9 Invented Street, Inventown", on: "2026-06-14", removedBy: person, by },
        ...{ authority: "owner, by letter", circumstances: "after a fire in the cellar", panels: ["cellar"] },
        clientReference: "REF-4711",
      },
      "job",
    );
    this.specimen = this.receive({ label: "KS-1", job, panel: "cellar", condition: "sooty", poles: 2 });
    const about = { kind: "specimen", id: this.specimen } as const;
    const custody = (event: string, from: string, to: string, seconds: number, more: object = {}) =>
      addCustodyEvent(
        this.lab,
        { about, event, from, to, observedAt: timeAt(seconds), by, ...more },
        "event",
      );
    custody("receipt", person, "reception", 60, { seals: [{ number: seal, condition: "intact" }] });
    custody("storage", "reception", "locker 3", 120, { condition: "bag whole" });
    custody("opening", "locker 4", "bench", 600, { seals: [{ number: seal, condition: "broken" }] });
    const told = { about, shows: "as received", by, takenAt: timeAt(90) };
    addPhotograph(this.lab, jpegWithPlaces(), { ...told, name: "front.jpg" }, "front.jpg");
    addPhotograph(this.lab, png, { ...told, name: "mark.png", shows: "marking" }, "mark.png");
    passGate(
      this.lab,
      this.specimen,
      {
        checks: [{ check: "continuity at 24 V", found: "closed" }],
        parties: [{ party: "the insurer", notifiedOn: "2026-06-13", answer: "will not attend" }],
        present: ["N. Witness"],
        authority: { by: person, on: "2026-06-13", words: "test all of it" },
        skipped: [{ item: "programmeLocked", reason: "one test only" }],
        ...{ by, note: "" },
      },
      "gate",
    );
  }
}
