import { useRef, useState } from "preact/hooks";
import { type FormText, specimenFields } from "../bench/specimen-fields.ts";
import { ChoiceField, TextField } from "../forms/field.tsx";
import { FormEnd } from "../forms/form-end.tsx";
import { readNumber } from "../forms/read-number.ts";
import { useSending } from "../forms/use-sending.ts";
import { ProblemFields } from "../frame/problem-fields.tsx";
import { importSpecimens } from "../server/resources.ts";
import { csvOf, type TypedRow, wholeRows } from "./alike-rows.ts";
import { AlikeTable } from "./alike-table.tsx";

/** Fields that all of them share, in the order of the form. */
const sharedNames = [
  ...["ratedAmps", "poles", "volts", "panel", "receivedOn", "selection"],
  ...["tripType", "typeLetter", "frameAmps", "makeCode", "typeCode", "dateCode"],
];
const sharedFields = sharedNames.flatMap((name) => specimenFields.filter((field) => field.name === name));
const mostAtOnce = 500;

/** Receives many that are alike: what they share is typed once, labels count up or are scanned, Enter goes on to the next. */
export function AlikeForm({
  job,
  panels,
  onReceived,
}: {
  job: string;
  panels: readonly string[];
  onReceived: () => void;
}) {
  const [shared, setShared] = useState<FormText>({});
  const [rows, setRows] = useState<readonly TypedRow[]>([{}]);
  const [many, setMany] = useState("1");
  const [demo, setDemo] = useState(false);
  const sending = useSending();
  const table = useRef<HTMLDivElement>(null);
  const whole = wholeRows(rows);

  function changeMany(text: string) {
    setMany(text);
    const number = readNumber(text);
    if (!Number.isInteger(number) || number < 1 || number > mostAtOnce) return;
    setRows((before) => Array.from({ length: number }, (_, at) => before[at] ?? {}));
  }

  async function send(event: Event) {
    event.preventDefault();
    const common = { ...shared, job, ...(demo ? { demo: "true" } : {}) };
    const csv = csvOf(whole.map((row) => ({ ...row, ...common })));
    const words = `Received ${whole.length}: ${whole[0]?.label ?? ""}${whole.length > 1 ? ` to ${whole.at(-1)?.label}` : ""}.`;
    if (!(await sending.send(() => importSpecimens(csv, "the lines below"), words))) return;
    setRows([{}]);
    setMany("1");
    onReceived();
  }

  return (
    <section class="panel" aria-labelledby="alike-title">
      <h2 id="alike-title">Receive several alike</h2>
      <form noValidate onSubmit={send} class="form" aria-label="Receive several alike">
        <h3>What they share</h3>
        <div class="fields fields-many">
          {sharedFields.map((field) => {
            const props = {
              id: `alike-${field.name}`,
              label: field.unit === undefined ? field.label : `${field.label}, ${field.unit}`,
              value: shared[field.name] ?? "",
              onChange: (value: string) => setShared((before) => ({ ...before, [field.name]: value })),
            };
            if (field.name === "panel" && panels.length > 0)
              return (
                <ChoiceField
                  key={field.name}
                  {...props}
                  choices={[["", "not known"], ...panels.map((one) => [one, one] as const)]}
                />
              );
            return field.kind === "choice" ? (
              <ChoiceField
                key={field.name}
                {...props}
                choices={[["", field.required ? "choose" : "not known"], ...(field.choices ?? [])]}
              />
            ) : (
              <TextField
                key={field.name}
                {...props}
                kind={field.kind === "number" || field.kind === "date" ? field.kind : "text"}
                example={field.example ?? ""}
                required={field.required ?? false}
              />
            );
          })}
        </div>
        <h3>Each of them</h3>
        <div class="alike-head">
          <TextField
            id="alike-many"
            label={`How many, at most ${mostAtOnce}`}
            kind="number"
            value={many}
            onChange={changeMany}
          />
          <p class="hint">
            Type the first, or scan its label. The others follow from the line above: labels and circuits
            count up, the rest is copied, and stands in <i>italics</i> until you type over it. Look at each
            breaker before you leave a copied word. Enter goes to the next line and adds one at the end.
          </p>
        </div>
        <AlikeTable
          table={table}
          typed={rows}
          whole={whole}
          onChange={(next) => {
            setRows(next);
            setMany(String(next.length));
          }}
        />
        <label class="tick">
          <input type="checkbox" checked={demo} onChange={(event) => setDemo(event.currentTarget.checked)} />
          <span>Mark them as demo: no real breakers stand behind them</span>
        </label>
        <ProblemFields problem={fieldsOfLines(sending.problem, whole)} />
        <FormEnd sending={sending} words={`Receive ${whole.length}`} />
      </form>
    </section>
  );
}

/** The server counts lines with the header; people look for labels. */
function fieldsOfLines<P extends { fields?: { field: string; problem: string }[] } | null>(
  problem: P,
  whole: readonly { label: string }[],
): P {
  if (problem?.fields === undefined) return problem;
  const fields = problem.fields.map((one) => ({
    ...one,
    field: one.field.replace(/^line (\d+)/, (_, line: string) => {
      const row = Number(line) - 2;
      return `line ${row + 1} (${whole[row]?.label || "no label"})`;
    }),
  }));
  return { ...problem, fields };
}
