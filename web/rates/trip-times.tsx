import type { TripTimesView } from "../../src/contract/rates.ts";
import { ProblemNote } from "../frame/problem-note.tsx";
import { addresses } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";

/** Median times to trip by stratum, and their comparison, in words. */
export function TripTimes({ asked }: { asked: string }) {
  const times = useResource<TripTimesView>(addresses.tripTimes(asked));
  return (
    <>
      <ProblemNote problem={times.problem} />
      {times.value !== null && (
        <ul class="reasons">
          {times.value.groups.map((group) => (
            <li key={group.label}>{group.words}</li>
          ))}
          {times.value.logRank !== null && <li>{times.value.logRank.words}</li>}
        </ul>
      )}
    </>
  );
}
