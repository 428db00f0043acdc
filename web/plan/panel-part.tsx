import { useState } from "preact/hooks";
import type { BeliefView, PanelView } from "../../src/contract/plans.ts";
import { TextField, TickField } from "../forms/field.tsx";
import { CopySentence } from "../frame/copy-sentence.tsx";
import { ProblemNote } from "../frame/problem-note.tsx";
import { problemOfField } from "../server/request.ts";
import { addresses, query } from "../server/resources.ts";
import { useResource } from "../server/use-resource.ts";
import { useSettled } from "../server/use-settled.ts";
import { figureWords, rangeWords, rateWords } from "../words/rate-words.ts";
import { MeaningWords } from "./meaning-words.tsx";

const counts = [
  ["onePole", "One-pole breakers in the panel"],
  ["twoPole", "Two-pole breakers in the panel"],
] as const;
const tested = [
  ["onePoleTested", "One-pole breakers tested"],
  ["onePoleFailed", "Of them failed"],
  ["twoPoleTested", "Two-pole breakers tested"],
  ["twoPoleFailed", "Of them failed"],
] as const;

/** What rates mean for a panel of so many one-pole and two-pole breakers. */
export function PanelPart() {
  const [text, setText] = useState<Record<string, string>>({
    onePole: "16",
    twoPole: "4",
    onePoleTested: "40",
    onePoleFailed: "2",
    twoPoleTested: "20",
    twoPoleFailed: "3",
    confidence: "0.95",
    point: "2",
  });
  const [fromLab, setFromLab] = useState(false);
  const { onePole, twoPole, confidence, point, ...given } = text;
  const common = { onePole: onePole ?? "", twoPole: twoPole ?? "", confidence: confidence ?? "" };
  const asked = query(fromLab ? { ...common, fromLab: "true", point: point ?? "" } : { ...common, ...given });
  const panel = useResource<PanelView>(addresses.panel(useSettled(asked)));
  const view = panel.value;
  const field = (name: string, label: string) => (
    <TextField
      key={name}
      id={`panel-${name}`}
      label={label}
      kind="number"
      value={text[name] ?? ""}
      onChange={(value) => setText({ ...text, [name]: value })}
      problem={problemOfField(panel.problem, name)}
    />
  );
  return (
    <section class="panel" aria-labelledby="panel-title">
      <h2 id="panel-title">What it means for a panel</h2>
      <form class="form" aria-label="A panel" onSubmit={(event) => event.preventDefault()}>
        <div class="fields fields-many">
          {counts.map(([name, label]) => field(name, label))}
          {field("confidence", "Confidence, between 0 and 1")}
        </div>
        <TickField checked={fromLab} onChange={setFromLab}>
          Take the counts of tested and failed from this lab's own as-found tests
        </TickField>
        <div class="fields fields-many">
          {fromLab
            ? field("point", "Multiple of the rating")
            : tested.map(([name, label]) => field(name, label))}
        </div>
      </form>
      <ProblemNote problem={panel.problem} />
      {view !== null && panel.problem === null && (
        <>
          <div class="table-frame" role="status">
            <table>
              <thead>
                <tr>
                  <th scope="col">For this panel</th>
                  <th scope="col" class="number">
                    Mean
                  </th>
                  <th scope="col" class="number">
                    Median
                  </th>
                  <th scope="col">Interval</th>
                  <th scope="col" class="number">
                    At most, 95 % one-sided
                  </th>
                </tr>
              </thead>
              <tbody>
                <Belief words="Probability that at least one would fail" belief={view.atLeastOne} share />
                <Belief words="Expected number that would fail" belief={view.expectedFailures} />
                <Belief
                  words="Chance that an overload on a circuit picked at random meets one that would not trip"
                  belief={view.randomCircuit}
                  share
                />
              </tbody>
            </table>
          </div>
          <p class="hint">
            From one-pole: {view.onePole.failed} of {view.onePole.tested} failed; two-pole:{" "}
            {view.twoPole.failed} of {view.twoPole.tested} failed.
          </p>
          <CopySentence sentence={view.sentence} />
          <MeaningWords words={view.words} />
        </>
      )}
    </section>
  );
}

function Belief({ words, belief, share = false }: { words: string; belief: BeliefView; share?: boolean }) {
  const one = share ? rateWords : figureWords;
  return (
    <tr>
      <th scope="row">{words}</th>
      <td class="number">
        <strong>{one(belief.mean)}</strong>
      </td>
      <td class="number">{one(belief.median)}</td>
      <td>
        {share
          ? rangeWords(belief.interval)
          : `${figureWords(belief.interval.lower)} to ${figureWords(belief.interval.upper)}`}
      </td>
      <td class="number">{one(belief.oneSidedUpper95)}</td>
    </tr>
  );
}
