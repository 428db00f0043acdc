import { describe, expect, it } from "vitest";
import { custodyTimelineFigure } from "../../src/exhibit/custody-timeline-figure.ts";
import { forestFigure } from "../../src/exhibit/forest-figure.ts";
import { funnelFigure } from "../../src/exhibit/funnel-figure.ts";
import { marginsFigure } from "../../src/exhibit/margins-figure.ts";
import { ratesFigure } from "../../src/exhibit/rates-figure.ts";
import { shotFigure } from "../../src/exhibit/shot-figure.ts";
import { survivalFigure } from "../../src/exhibit/survival-figure.ts";
import { timeCurrentFigure } from "../../src/exhibit/time-current-figure.ts";
import { crowdedCustody, custodyExample, publishedCustody } from "./custody-examples.ts";
import {
  crowdedMargins,
  forestExample,
  funnelExample,
  marginsExample,
  ratesExample,
  shotExample,
  survivalExample,
  timeCurrentExample,
} from "./figure-examples.ts";

// The files were looked at, as pictures, when they were made; a change in one is to be looked at again.
describe("figures as they were reviewed", () => {
  it.each([
    ["forest", forestFigure(forestExample)],
    ["rates", ratesFigure(ratesExample)],
    ["survival", survivalFigure(survivalExample)],
    ["funnel", funnelFigure(funnelExample)],
    ["margins", marginsFigure(marginsExample)],
    ["margins-crowded", marginsFigure(crowdedMargins)],
    ["time-current", timeCurrentFigure(timeCurrentExample)],
    ["time-current-amps", timeCurrentFigure({ ...timeCurrentExample, axis: "amps", model: null })],
    ["shot", shotFigure(shotExample)],
    ["custody-timeline", custodyTimelineFigure(custodyExample)[0]?.svg ?? ""],
    ["custody-timeline-crowded", custodyTimelineFigure(crowdedCustody)[3]?.svg ?? ""],
    ["custody-timeline-published", custodyTimelineFigure(publishedCustody)[0]?.svg ?? ""],
  ])("%s", async (name, svg) => {
    await expect(svg).toMatchFileSnapshot(`../fixtures/figures/${name}.svg`);
  });
});
