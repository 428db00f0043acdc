/** Where a shot stands. */
export type ShotState = "checks" | "arm" | "inject" | "watch" | "end" | "settle" | "record" | "done";

export const shotStates: Readonly<Record<ShotState, string>> = {
  checks: "is the rig safe, its interlock closed, and the order within what it can do?",
  arm: "the rig is told the shot and gives a token",
  inject: "the token is given back, which switches the current on; nothing of the current is known yet",
  watch: "current flows; the time is held against the end of the test",
  end: "the current is to go off; STOP is repeated until the rig confirms it",
  settle: "the current is off; the result and every line still missing are waited for",
  record: "what is known is handed over",
  done: "nothing more happens",
};

/** What can happen to a shot. */
export type ShotTrigger =
  | "fit"
  | "unfit"
  | "armed"
  | "not-armed"
  | "fire-refused"
  | "fire-unanswered"
  | "current-on"
  | "rig-off"
  | "limit-reached"
  | "stop-wanted"
  | "danger"
  | "line-lost"
  | "sink-failed"
  | "stop-confirmed"
  | "stop-unanswered"
  | "still-on"
  | "complete"
  | "patience-over"
  | "recorded";

export const shotTriggers: Readonly<Record<ShotTrigger, string>> = {
  fit: "all checks were passed",
  unfit: "a check failed",
  armed: "the rig answered READY with a token",
  "not-armed": "the rig refused ARM or did not answer it",
  "fire-refused": "the rig refused FIRE",
  "fire-unanswered": "FIRE was not answered; whether it was carried out is not known",
  "current-on": "the rig confirmed FIRE, or told of current",
  "rig-off": "the rig told that the source is off: opened, its longest time, or a cause of its own",
  "limit-reached": "the end of the test is reached on the rig's clock",
  "stop-wanted": "the operator wants to stop",
  danger: "the rig told of an open interlock, a pressed stop button or a fault",
  "line-lost": "the link is gone, the heartbeat is unanswered, or the rig restarted",
  "sink-failed": "what was heard could not be stored",
  "stop-confirmed": "the rig answered STOP",
  "stop-unanswered": "the rig did not answer STOP, however often it was sent",
  "still-on": "the rig tells of current after it had been told to be off",
  complete: "the result is there, no line is missing, and the line is quiet",
  "patience-over": "nothing more came for as long as is allowed",
  recorded: "everything is handed over",
};

/** What is done on a transition. */
export type ShotAction =
  | "send-arm"
  | "send-fire"
  | "watch-limit"
  | "switch-off"
  | "abandon-line"
  | "await-rest"
  | "hand-over"
  | "refuse"
  | "disarm-and-refuse"
  | "finish";

export const shotActions: Readonly<Record<ShotAction, string>> = {
  "send-arm": "send ARM",
  "send-fire": "send FIRE with the token",
  "watch-limit": "hold every sample and state against the end of the test",
  "switch-off": "send STOP until it is answered",
  "abandon-line": "end the heartbeat, without which the rig switches off by itself",
  "await-rest": "acknowledge the result; wait for missing lines",
  "hand-over": "hand over what is known",
  refuse: "say why there was no shot",
  "disarm-and-refuse": "send STOP, which disarms; say why there was no shot",
  finish: "give the session back",
};

/** One row of the table: in state `from`, when `on` happens, do `action` and go to `to`. */
export interface ShotTransition {
  from: ShotState;
  on: ShotTrigger;
  to: ShotState;
  action: ShotAction;
}

const row = (from: ShotState, on: ShotTrigger, to: ShotState, action: ShotAction): ShotTransition => ({
  from,
  on,
  to,
  action,
});

/** Every transition of a shot. The shot machine does what stands here and nothing else. */
export const shotTransitions: readonly ShotTransition[] = [
  row("checks", "fit", "arm", "send-arm"),
  row("checks", "unfit", "done", "refuse"),
  row("checks", "stop-wanted", "done", "refuse"),
  row("checks", "line-lost", "done", "refuse"),
  row("checks", "sink-failed", "done", "refuse"),

  row("arm", "armed", "inject", "send-fire"),
  row("arm", "not-armed", "done", "disarm-and-refuse"),
  row("arm", "stop-wanted", "done", "disarm-and-refuse"),
  row("arm", "danger", "done", "disarm-and-refuse"),
  row("arm", "sink-failed", "done", "disarm-and-refuse"),
  row("arm", "line-lost", "done", "refuse"),

  row("inject", "current-on", "watch", "watch-limit"),
  row("inject", "rig-off", "settle", "await-rest"),
  row("inject", "fire-refused", "end", "switch-off"),
  row("inject", "fire-unanswered", "end", "switch-off"),
  row("inject", "stop-wanted", "end", "switch-off"),
  row("inject", "danger", "end", "switch-off"),
  row("inject", "sink-failed", "end", "switch-off"),
  row("inject", "line-lost", "record", "hand-over"),

  row("watch", "rig-off", "settle", "await-rest"),
  row("watch", "limit-reached", "end", "switch-off"),
  row("watch", "stop-wanted", "end", "switch-off"),
  row("watch", "danger", "end", "switch-off"),
  row("watch", "sink-failed", "end", "switch-off"),
  row("watch", "line-lost", "record", "hand-over"),

  row("end", "stop-confirmed", "settle", "await-rest"),
  row("end", "rig-off", "settle", "await-rest"),
  row("end", "stop-unanswered", "record", "abandon-line"),
  row("end", "line-lost", "record", "hand-over"),

  row("settle", "complete", "record", "hand-over"),
  row("settle", "patience-over", "record", "hand-over"),
  row("settle", "still-on", "end", "switch-off"),
  row("settle", "sink-failed", "record", "hand-over"),
  row("settle", "line-lost", "record", "hand-over"),

  row("record", "recorded", "done", "finish"),
];

/** What may happen in a state without changing anything: it comes too late, or tells what is known already. */
export const shotIgnores: Readonly<Record<ShotState, readonly ShotTrigger[]>> = {
  checks: ["danger"],
  arm: [],
  inject: ["still-on"],
  watch: ["current-on", "still-on", "fire-refused", "fire-unanswered"],
  end: [
    "current-on",
    "still-on",
    "fire-refused",
    "fire-unanswered",
    "limit-reached",
    "stop-wanted",
    "danger",
    "sink-failed",
  ],
  settle: [
    "current-on",
    "rig-off",
    "fire-refused",
    "fire-unanswered",
    "limit-reached",
    "stop-wanted",
    "danger",
    "stop-confirmed",
    "stop-unanswered",
  ],
  record: shotTriggersExcept("recorded"),
  done: shotTriggersExcept(),
};

/** States in which current may flow. */
export const statesWithCurrent: readonly ShotState[] = ["inject", "watch", "end"];

/**
 * What to do in a state when something happens: the row of the table; "stay" for what is ignored; and for what should not be
 * possible the safe way out, which is to switch off where current may flow and to end everywhere else.
 */
export function shotTransition(from: ShotState, on: ShotTrigger): ShotTransition | "stay" {
  const found = shotTransitions.find((one) => one.from === from && one.on === on);
  if (found !== undefined) return found;
  if (shotIgnores[from].includes(on)) return "stay";
  if (from === "checks" || from === "arm") return row(from, on, "done", "disarm-and-refuse");
  if (from === "settle") return row(from, on, "record", "hand-over");
  return row(from, on, "end", "switch-off");
}

/** The table for people, in Markdown. */
export function shotTransitionsMarkdown(): string {
  const table = (head: string[], rows: readonly string[][]) =>
    [head, head.map(() => "---"), ...rows].map((cells) => `| ${cells.join(" | ")} |`).join("\n");
  return [
    table(["state", "in words"], Object.entries(shotStates)),
    "",
    table(
      ["state", "when", "in words", "does", "goes to"],
      shotTransitions.map(({ from, on, to, action }) => [
        from,
        on,
        shotTriggers[on],
        shotActions[action],
        to,
      ]),
    ),
    "",
    "Ignored, because it comes too late or tells what is known already:",
    "",
    table(
      ["state", "what changes nothing"],
      Object.entries(shotIgnores).map(([state, triggers]) => [state, triggers.join(", ") || "nothing"]),
    ),
    "",
    "Whatever else happened would be a fault of the program or of the rig. It switches the current off in the states " +
      `${statesWithCurrent.join(", ")}, and ends the shot in the others.`,
    "",
  ].join("\n");
}

function shotTriggersExcept(...left: ShotTrigger[]): ShotTrigger[] {
  return (Object.keys(shotTriggers) as ShotTrigger[]).filter((trigger) => !left.includes(trigger));
}
