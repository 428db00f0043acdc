import type { CustodyTimelineData } from "../contract/exhibit-figures.ts";
import type { Frame } from "./_axis.ts";
import type { Region } from "./_custody-regions.ts";
import type { Knots } from "./_timeline-knots.ts";

/** Width of a timeline. */
export const timelineWidth = 800;

/** Places of a strip in pixels. Time lies between `left` and `right`; names of lanes begin at `names`. */
export const layout = {
  names: 16,
  left: 142,
  right: timelineWidth - 16,
  /** Before the first moment and after the last, so that their words have room. */
  inset: 44,
  /** Room that a moment needs for its words. */
  least: 68,
  /** Size of letters. */
  small: 10,
} as const;

/** Everything of a chain that a strip is cut from. */
export interface Chain {
  data: CustodyTimelineData;
  knots: Knots;
  regions: readonly Region[];
}

/** The lanes of a strip from top to bottom; places count from the top of the first. */
export interface Lanes {
  list: { key: string; lines: string[]; isCut: boolean; top: number; height: number }[];
  height: number;
  middleOf(holder: string): number;
}

/** What the parts of a strip are drawn by. */
export interface Drawing {
  chain: Chain;
  first: number;
  last: number;
  x(knot: number): number;
  frame: Frame;
  middle(holder: string): number;
  lanes: Lanes;
  events: readonly number[];
}
