import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Database from "better-sqlite3";
import { ratesView } from "../../src/lab/rates.ts";
import { readRateQuestion } from "../../src/lab/rates-question.ts";
import { databaseFileName } from "../../src/store/_open-database.ts";
import { caseWriter } from "../../src/store/case-tables.ts";
import { openStore, type Store } from "../../src/store/open-store.ts";
import { openedBody, openLab } from "../store/small-lab.ts";
import { type Benchmark, fastestSeconds } from "./benchmark.ts";

const few = 10_000;
const times = 100;

/** A store of `few` invented specimens in panels of 20, each with one closed shot as found, repeated `copies` times over in further jobs. */
function manySpecimens(copies: number): Store {
  const folder = mkdtempSync(join(tmpdir(), "asfound-rates-"));
  const small = openLab(folder);
  const template = openedBody(small, "T", 1, "S");
  small.close();
  const database = new Database(join(folder, databaseFileName));
  database.pragma("synchronous = OFF");
  const cases = caseWriter(database);
  const insertSpecimen = database.prepare(
    "INSERT INTO specimens VALUES (?, ?, ?, ?, ?, 120, ?, 0, '2025-01-31T08:00:00.000Z', 1, 1, 1, ?)",
  );
  database.transaction(() => {
    for (let i = 1; i <= few; i += 1) {
      const ratedAmps = [15, 20, 20, 30, 50][(i * 7) % 5] ?? 20;
      const poles = i % 6 === 0 ? 2 : 1;
      const details = {
        label: `L${i}`,
        ratedAmps,
        poles,
        volts: 120,
        makeCode: `maker ${Math.floor(i / 200) % 6}`,
        madeYear: 1950 + (Math.floor(i / 20) % 60),
        job: `job ${Math.floor(i / 200)}`,
        panel: `panel ${Math.floor(i / 20) % 10}`,
        condition: i % 3 === 0 ? "dusty" : "clean",
      };
      const text = JSON.stringify(details);
      const specimen = `BENC-S${i}`;
      insertSpecimen.run(specimen, i, details.label, ratedAmps, poles, details.job, text);
      cases.open({ sequence: i, specimen, details: text, demo: 0 }, i, { ...template, specimen });
      const failed = (i * 2654435761) % 100 < 12;
      cases.close(i, {
        result: failed ? "fail" : "pass",
        finding: failed ? "no trip" : "tripped in time",
        statement: null,
        probability: null,
        limitSeconds: 120,
        limitSet: "invented",
        row: "135",
        rule: { kind: "simple" },
        confirmed: false,
        reasons: [],
      });
    }
    const clusters = database.prepare<[], number>("SELECT MAX(cluster) FROM specimen_clusters").pluck().get();
    for (let copy = 1; copy < copies; copy += 1) {
      const shift = { specimens: copy * few, clusters: copy * (clusters ?? 0), first: few };
      database
        .prepare(
          `INSERT INTO specimen_clusters SELECT cluster + ?, station, job || ' of ' || ?, panel FROM specimen_clusters WHERE cluster <= ?`,
        )
        .run(shift.clusters, copy, clusters);
      database
        .prepare(
          `INSERT INTO shot_cases SELECT sequence + :specimens, specimen + :specimens, as_found, point, kind, cluster + :clusters, result,
             finding FROM shot_cases WHERE sequence <= :first`,
        )
        .run(shift);
      database
        .prepare(
          `INSERT INTO specimens SELECT specimen || '-' || :copy, sequence + :specimens, label || '-' || :copy, rated_amps, poles, volts,
             job, demo, received_at, operations, exercised, shots, details FROM specimens WHERE sequence <= :first`,
        )
        .run({ specimens: shift.specimens, copy, first: few });
    }
  })();
  database.close();
  return openStore(folder, { readOnly: true });
}

function discard(store: Store): void {
  store.close();
  rmSync(store.dataDir, { recursive: true });
}

const question = readRateQuestion({ by: "poles,makeCode,decade" });

export const benchmarks: Benchmark[] = [
  {
    name: `rates by three attributes over ${(few * times).toLocaleString("en")} specimens, clustered by panel`,
    target: `under one second, and at most ${times} times as long as over ${few.toLocaleString("en")}, give or take a tenth`,
    measure: () => {
      const small = manySpecimens(1);
      const large = manySpecimens(times);
      try {
        if (ratesView({ store: large }, question).total.n !== few * times)
          throw new Error("not all were counted");
        const smallSeconds = fastestSeconds(5, () => ratesView({ store: small }, question));
        const largeSeconds = fastestSeconds(3, () => ratesView({ store: large }, question));
        const ratio = largeSeconds / smallSeconds;
        return {
          figures: `${ratio.toFixed(1)} times (${(1000 * largeSeconds).toFixed(0)} ms against ${(1000 * smallSeconds).toFixed(1)} ms)`,
          met: largeSeconds < 1 && ratio <= 1.1 * times,
        };
      } finally {
        discard(small);
        discard(large);
      }
    },
  },
];
