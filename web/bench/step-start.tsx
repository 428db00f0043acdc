import { useEffect, useState } from "preact/hooks";
import type { Problem, ProgrammeStep, RigView, SpecimenView } from "../../src/contract/http.ts";
import { requirementWords } from "../../src/core/limits/requirement-words.ts";
import { formatAmps } from "../../src/core/units/format-amps.ts";
import { formatMultiple } from "../../src/core/units/format-multiple.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { problemOf } from "../server/request.ts";
import { startShot } from "../server/resources.ts";
import { session } from "../session/session.ts";
import { whyNotDrive } from "../session/why-not-drive.ts";
import { leadsWords } from "../words/state-words.ts";
import { LoadingPicture } from "./loading-picture.tsx";
import { stepKey } from "./programme-steps.tsx";
import { ignoreHeldKey } from "./stop-button.tsx";

/** Why a test cannot begin now, in words; null when it can. */
export function hindrance(rig: RigView | null, connection: string, seeding: boolean): string | null {
  if (connection !== "open") return "There is no connection to the bench program.";
  if (seeding) return "The demo lab is being made; tests can begin when it is done.";
  if (rig === null || rig.state === "absent") return "No rig is connected.";
  if (rig.state === "fault") return "The rig reports a fault.";
  if (rig.button === "pressed") return "The hard-wired stop button is pressed.";
  if (rig.interlock === "open") return "The interlock of the test area is open.";
  return null;
}

/** The chosen step: what will flow, for how long, where the leads go, and the start behind a confirmation. */
export function StepStart({ specimen, step }: { specimen: SpecimenView; step: ProgrammeStep }) {
  const [confirmed, setConfirmed] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [starting, setStarting] = useState(false);
  const rig = useStore(live.rig);
  const connection = useStore(live.connection);
  const seeding = useStore(live.seeding) !== null;
  const refused = useStore(live.refused);
  const key = `${specimen.id} ${stepKey(step)}`;
  const { point } = step;
  const here = useStore(session);
  const inTheWay = hindrance(rig, connection, seeding) ?? whyNotDrive(here);

  // Another specimen or step asks for a new confirmation
  useEffect(() => {
    setConfirmed(false);
    setProblem(null);
    live.refused.set(null);
  }, [key]);

  async function start() {
    setStarting(true);
    setProblem(null);
    live.refused.set(null);
    try {
      await startShot({
        specimen: specimen.id,
        limitSet: point.limitSet,
        multiple: point.row.multiple,
        loading: point.loading,
        confirmedSafe: true,
      });
    } catch (error) {
      setProblem(problemOf(error));
    } finally {
      setStarting(false);
      setConfirmed(false);
    }
  }

  return (
    <div class="step-start">
      <div class="step-summary">
        <LoadingPicture poles={specimen.details.poles} loading={point.loading} />
        <div>
          <p class="target">
            <strong>{formatAmps(point.targetAmps)}</strong> = {formatMultiple(point.row.multiple)} of{" "}
            {formatAmps(specimen.details.ratedAmps)}
          </p>
          <p>It must {requirementWords(point.row.requirement)}.</p>
          <p>{leadsWords(point.loading, specimen.details.poles)}</p>
          <p class="step-source">
            Limit value: {point.row.source.standing}
            {point.row.source.doubtful ? ", doubtful" : ""}.
          </p>
        </div>
      </div>
      <label class="tick">
        <input
          type="checkbox"
          checked={confirmed}
          onChange={(event) => setConfirmed(event.currentTarget.checked)}
        />
        <span>I have read the cautions; leads are fitted and the area is clear.</span>
      </label>
      <ProblemNote problem={problem} />
      {refused !== null && <ProblemNote problem={{ type: "", title: "", status: 0, detail: refused }} />}
      <button
        type="button"
        class="start"
        disabled={!confirmed || starting || inTheWay !== null}
        onKeyDown={ignoreHeldKey}
        onClick={() => void start()}
      >
        Start test
      </button>
      {inTheWay !== null && <p class="in-the-way">{inTheWay}</p>}
    </div>
  );
}
