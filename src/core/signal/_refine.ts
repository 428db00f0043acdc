import type { Edge, Flow } from "./_flow.ts";
import { type RawEdge, rawOnset, rawOpening } from "./_raw-edges.ts";
import { type RawStretch, rawStretches } from "./_raw-window.ts";
import type { RawWindow } from "./shot-signal.ts";

/** The edges of a flow, narrowed by raw windows where these show them. */
export interface RefinedFlow {
  onset: Edge | null;
  end: Edge;
  /** True where a raw window contradicts the RMS samples; it is then left out. */
  rawDisagrees: boolean;
}

/** Narrows onset and end to what the raw windows show: the part that both kinds of samples allow. */
export function refine(
  flow: Flow,
  raw: readonly RawWindow[],
  targetMilliamps: number,
  lineHz: number,
): RefinedFlow {
  const onsets = found(rawStretches(raw, "onset"), (one) => rawOnset(one, targetMilliamps, lineHz));
  const openings = found(rawStretches(raw, "opening"), (one) => rawOpening(one, targetMilliamps, lineHz));
  const onset = flow.onset === null ? null : narrowed(flow.onset, onsets);
  const end = narrowed(flow.end, openings);
  return {
    onset: onset?.edge ?? null,
    end: end.edge,
    rawDisagrees: onset?.disagree === true || end.disagree,
  };
}

function found(stretches: readonly RawStretch[], edgeOf: (stretch: RawStretch) => RawEdge | null): RawEdge[] {
  return stretches.map(edgeOf).filter((edge) => edge !== null);
}

function narrowed(edge: Edge, shown: readonly RawEdge[]): { edge: Edge; disagree: boolean } {
  const fitting = shown.find((one) => one.lowerUs <= edge.upperUs && one.upperUs >= edge.lowerUs);
  if (fitting === undefined) return { edge, disagree: shown.length > 0 };
  const lowerUs = Math.max(edge.lowerUs, fitting.lowerUs);
  const upperUs = Math.min(edge.upperUs, fitting.upperUs);
  const pointUs = Math.min(upperUs, Math.max(lowerUs, fitting.pointUs));
  return { edge: { lowerUs, upperUs, pointUs, adjacent: true }, disagree: false };
}
