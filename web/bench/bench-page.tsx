import { useEffect, useState } from "preact/hooks";
import type {
  LabView,
  LimitSetView,
  ProgrammeStep,
  ShotLine,
  SpecimenView,
} from "../../src/contract/http.ts";
import type { NextView, PlanView } from "../../src/contract/programme.ts";
import { live } from "../live/live.ts";
import { useStore } from "../live/store.ts";
import { routeTo } from "../routing.ts";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { BenchCharts } from "./bench-charts.tsx";
import { Cautions } from "./cautions.tsx";
import { LockedNote } from "./locked-note.tsx";
import { lockedStep, nextStep, stepKey } from "./programme-steps.tsx";
import { ReceiveForm } from "./receive-form.tsx";
import { RigPanel } from "./rig-panel.tsx";
import { SpecimenChooser } from "./specimen-chooser.tsx";
import { Workplace } from "./workplace.tsx";

/** The bench: specimens and rig, the test, the charts, and the cautions below all of it. */
export function BenchPage({ rest }: { rest: string[] }) {
  const shot = useStore(live.shot);
  const chosen = rest[0] ?? shot?.specimen.id ?? null;
  const [receiving, setReceiving] = useState(false);
  const [wishedSet, setWishedSet] = useState<string | null>(null);
  const lab = useResource<LabView>(addresses.lab);
  const specimens = useResource<SpecimenView[]>(addresses.specimens);
  const limitSets = useResource<LimitSetView[]>(addresses.limitSets);
  const next = useResource<NextView>(addresses.next);
  const plan = useResource<PlanView>(chosen === null ? null : addresses.plan(chosen));
  const lockedSet = plan.value?.specimen === chosen ? (plan.value?.lock?.limitSet ?? null) : null;
  const programme = useResource<ProgrammeStep[]>(
    chosen === null ? null : addresses.programme(chosen, wishedSet ?? lockedSet),
  );
  const shots = useResource<ShotLine[]>(chosen === null ? null : addresses.shotsOf(chosen));
  const specimen = specimens.value?.find((one) => one.id === chosen) ?? null;
  const [stepChoice, setStepChoice] = useState<string | null>(null);
  const steps = programme.value ?? [];
  const step =
    steps.find((one) => stepKey(one) === stepChoice) ?? lockedStep(steps, plan.value) ?? nextStep(steps);
  const limitSet = wishedSet ?? programme.value?.[0]?.point.limitSet ?? null;

  // A test that begins, here or elsewhere, brings its specimen into view.
  const tested = shot?.specimen.id;
  useEffect(() => {
    if (tested !== undefined) location.hash = routeTo("bench", tested);
  }, [tested]);
  // Another specimen may need another limit set
  useEffect(() => {
    setWishedSet(null);
    setStepChoice(null);
    setReceiving(false);
  }, [chosen]);

  return (
    <div class="bench">
      <div class="bench-left">
        <SpecimenChooser
          specimens={specimens}
          next={next}
          chosen={chosen}
          onReceive={() => setReceiving(true)}
        />
        <RigPanel />
      </div>
      <Workplace
        form={
          receiving && (
            <ReceiveForm
              onLeave={() => setReceiving(false)}
              onReceived={(received) => {
                specimens.reload();
                location.hash = routeTo("bench", received.id);
                setReceiving(false);
              }}
            />
          )
        }
        specimen={specimen}
        programme={programme}
        locked={
          specimen !== null && <LockedNote specimen={specimen.id} plan={plan.value} next={next.value} />
        }
        limitSets={limitSets.value ?? []}
        limitSet={limitSet}
        step={step}
        onStep={(one) => setStepChoice(stepKey(one))}
        onLimitSet={setWishedSet}
        onMoved={specimens.reload}
      />
      <div class="bench-charts">
        <BenchCharts
          specimen={specimen}
          point={step?.point ?? null}
          limitSet={limitSets.value?.find((one) => one.set.id === (shot?.point.limitSet ?? limitSet)) ?? null}
          shots={shots.value ?? []}
        />
      </div>
      <Cautions cautions={lab.value?.cautions ?? null} />
    </div>
  );
}
