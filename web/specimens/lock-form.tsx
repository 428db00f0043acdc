import { useState } from "preact/hooks";
import type { LimitSetView, ProgrammeStep, SpecimenView } from "../../src/contract/http.ts";
import type { ProgrammeChoice, ProgrammeLock } from "../../src/contract/programme.ts";
import type { DecisionRule } from "../../src/core/limits/verdict.ts";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { readNumber } from "../forms/read-number.ts";
import { useSending } from "../forms/use-sending.ts";
import { problemOfField } from "../server/request.ts";
import { addresses, lockProgramme } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";

/** Locks programme, limits and decision rule, so that nobody can choose them after seeing a result. */
export function LockForm({
  specimen,
  before,
  onLocked,
}: {
  specimen: SpecimenView;
  before: ProgrammeLock | null;
  onLocked: () => void;
}) {
  const programmes = useResource<ProgrammeChoice[]>(addresses.programmes);
  const limitSets = useResource<LimitSetView[]>(addresses.limitSets);
  const suiting = useResource<ProgrammeStep[]>(addresses.programme(specimen.id, null));
  const [programme, setProgramme] = useState(before?.programme ?? "");
  const [limitSet, setLimitSet] = useState(before?.limitSet ?? "");
  const [kind, setKind] = useState<DecisionRule["kind"]>(before?.rule.kind ?? "simple");
  const [r, setR] = useState(before === null || before.rule.kind === "simple" ? "1" : String(before.rule.r));
  const [why, setWhy] = useState("");
  const sending = useSending();
  const chosen = programme || (programmes.value?.[0]?.name ?? "");
  const chosenSet = limitSet || (suiting.value?.[0]?.point.limitSet ?? "");
  const needsWhy = before !== null || specimen.shots > 0;

  async function send(event: Event) {
    event.preventDefault();
    const width = readNumber(r);
    if (kind !== "simple" && !(width >= 0)) {
      sending.refuse([{ field: "r", problem: `Found "${r}"; a number from 0 is accepted, for example 1.` }]);
      return;
    }
    const rule: DecisionRule = kind === "simple" ? { kind } : { kind, r: width };
    const lock = { programme: chosen, limitSet: chosenSet, rule, ...(why.trim() === "" ? {} : { why }) };
    if (await sending.send(() => lockProgramme(specimen.id, lock), "Locked.")) onLocked();
  }

  return (
    <form noValidate onSubmit={send} class="form" aria-label="Lock a programme">
      <p>
        {needsWhy
          ? "A change after the first current, or of an earlier lock, is an amendment: it needs a reason, and both stay in the ledger."
          : "Programme, limits and rule are fixed before the first current and stand in the ledger."}
      </p>
      <div class="fields fields-first">
        <ChoiceField
          id="lock-programme"
          label="Programme"
          value={chosen}
          onChange={setProgramme}
          choices={(programmes.value ?? []).map(({ name }) => [name, name])}
          problem={problemOfField(sending.problem, "programme")}
        />
        <ChoiceField
          id="lock-limits"
          label="Limits"
          value={chosenSet}
          onChange={setLimitSet}
          choices={(limitSets.value ?? []).map(({ set, confirmed }) => [
            set.id,
            confirmed ? set.title : `${set.title} (not confirmed)`,
          ])}
          problem={problemOfField(sending.problem, "limitSet")}
        />
        <ChoiceField
          id="lock-rule"
          label="Decision rule"
          value={kind}
          onChange={(value) => setKind(value as DecisionRule["kind"])}
          choices={[
            ["simple", "Simple acceptance"],
            ["guard", "Guard band"],
            ["nonbinary", "Non-binary statement"],
          ]}
          problem={problemOfField(sending.problem, "rule")}
        />
        {kind !== "simple" && (
          <TextField
            id="lock-r"
            label="Guard band over expanded uncertainty, r in w = r U"
            kind="number"
            value={r}
            onChange={setR}
            problem={problemOfField(sending.problem, "r")}
          />
        )}
        {needsWhy && (
          <TextField
            id="lock-why"
            label="Reason"
            value={why}
            onChange={setWhy}
            wide
            problem={problemOfField(sending.problem, "why")}
          />
        )}
      </div>
      <p class="hint">{programmes.value?.find(({ name }) => name === chosen)?.about}</p>
      <FormEnd sending={sending} words={before === null ? "Lock the programme" : "Lock the amendment"} />
    </form>
  );
}
