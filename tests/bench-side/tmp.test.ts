import { it } from "vitest";
import { openLink } from "../../src/bench/open-link.ts";
import { RigSession } from "../../src/bench/rig-session.ts";
import { runShot } from "../../src/bench/shot-machine.ts";
it("runs", async () => {
  const session = new RigSession(openLink("emulated?speed=200"));
  console.log(await session.connect());
  const t0=performance.now();
  let n=0, lines=0;
  const end = await runShot(session, { shot: 1, targetAmps: 40, ratedAmps: 20, loading: "pole-1", endAtSeconds: 150, longestSeconds: 160, every: "cycle", rawSamples: 1024 },
    { state: (s) => console.log(s), samples: (r) => { n+=r.milliamps.length; lines++; }, event: (e) => console.log(e), raw: (w) => console.log(w.window, w.milliamps.length) }, new AbortController().signal);
  console.log(end, n, lines, performance.now()-t0, session.health);
  await session.close();
});
