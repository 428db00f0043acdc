import type { ShotFigureData, TimeCurrentFigureData } from "../../src/contract/exhibit-figures.ts";
import type {
  ForestData,
  FunnelData,
  MarginsData,
  RatesFigureData,
  SurvivalFigureData,
} from "../../src/contract/figures.ts";

// Every number here is invented for these tests.
const invented = "Invented data for a test.";

export const forestExample: ForestData = {
  title: "No trip at 200 % of the rating",
  criterion: "Failed: no trip within 120 s at 200 %, as found, first shot",
  rows: [
    {
      label: "Study A, 1981, one-pole",
      k: 3,
      n: 24,
      estimate: 0.125,
      lower: 0.0266,
      upper: 0.3236,
      weight: 0.21,
    },
    {
      label: "Study B, 1996, two-pole, each pole alone",
      k: 12,
      n: 60,
      estimate: 0.2,
      lower: 0.1078,
      upper: 0.3233,
      weight: 0.44,
    },
    { label: "Study C, 2004", k: 0, n: 11, estimate: 0, lower: 0, upper: 0.2849, weight: 0.08 },
    {
      label: "Study D, 2012",
      k: 7,
      n: 41,
      estimate: 0.1707,
      lower: 0.0715,
      upper: 0.3206,
      weight: 0.27,
      marked: true,
    },
    { label: "Own lab", k: 1, n: 4, estimate: 0.25, lower: 0.0063, upper: 0.8059, weight: null },
  ],
  pooled: { label: "Pooled, binomial-normal model", estimate: 0.166, lower: 0.109, upper: 0.244 },
  prediction: { lower: 0.082, upper: 0.305 },
  notes: ["Specimens pulled on suspicion are no sample of the installed base.", invented],
};

export const ratesExample: RatesFigureData = {
  title: "Failure to trip by decade of manufacture",
  criterion: "Failed: no trip within 120 s at 200 %, as found, first shot; each specimen counts once",
  rows: [
    { label: "1960s", k: 4, n: 19, estimate: 4 / 19, lower: 0.0605, upper: 0.4557 },
    { label: "1970s", k: 9, n: 88, estimate: 9 / 88, lower: 0.0478, upper: 0.1853 },
    { label: "1980s", k: 0, n: 31, estimate: 0, lower: 0, upper: 0.1122 },
    { label: "decade not recorded", k: 1, n: 142, estimate: 1 / 142, lower: 0.0002, upper: 0.0386 },
  ],
  notes: ["Intervals: Clopper-Pearson, 95 %.", invented],
};

export const survivalExample: SurvivalFigureData = {
  title: "Time to trip at 135 % of the rating",
  criterion: "As found, first shot, each specimen once",
  xLabel: "time since the onset of current",
  curves: [
    {
      label: "one-pole",
      time: [310, 540, 620, 900, 1340, 2100],
      survival: [0.9, 0.8, 0.65, 0.45, 0.3, 0.2],
      lower: [0.66, 0.55, 0.4, 0.23, 0.12, 0.06],
      upper: [0.97, 0.92, 0.82, 0.65, 0.51, 0.41],
      atRisk: [
        { time: 0, n: 20 },
        { time: 900, n: 13 },
        { time: 1800, n: 6 },
        { time: 2700, n: 4 },
        { time: 3600, n: 4 },
      ],
      censored: [1500, 3600, 3600, 3600],
      lastTime: 3600,
    },
    {
      label: "two-pole & handle-tied",
      time: [700, 1250, 3000],
      survival: [0.92, 0.7, 0],
      lower: [0.55, 0.3, null],
      upper: [0.99, 0.9, null],
      atRisk: [
        { time: 0, n: 12 },
        { time: 900, n: 11 },
        { time: 1800, n: 5 },
        { time: 2700, n: 2 },
      ],
      censored: [1600, 2200],
      lastTime: 3000,
    },
  ],
  notes: ["Bounds: Greenwood, log-log, 95 %, at each time by itself.", invented],
};

export const funnelExample: FunnelData = {
  title: "Funnel of the studies",
  criterion: "Failed: no trip within 120 s at 200 %",
  points: [
    { label: "Study A", logit: -1.95, standardError: 0.617 },
    { label: "Study B", logit: -1.386, standardError: 0.323 },
    { label: "Study C", logit: -3.135, standardError: 1.445 },
    { label: "Study D", logit: -1.58, standardError: 0.415, marked: true },
    { label: "Study E", logit: -1.62, standardError: 0.42 },
  ],
  centre: -1.61,
  z: 1.959964,
  notes: ["Few studies: asymmetry cannot be judged by eye.", invented],
};

export const marginsExample: MarginsData = {
  title: "Time to trip against the limit",
  criterion: "200 % of the rating, limit 120 s, as found, first shot",
  points: [
    ...[0.12, 0.18, 0.19, 0.19, 0.2, 0.21, 0.22, 0.3, 0.33, 0.5, 0.52, 0.86].map((ratio, i) => ({
      label: `A-${String(i + 1).padStart(2, "0")}`,
      stratum: "one-pole",
      ratio,
      censored: false,
      result: "pass" as const,
    })),
    { label: "A-13", stratum: "one-pole", ratio: 1.3, censored: false, result: "fail" },
    { label: "A-14", stratum: "one-pole", ratio: 1.5, censored: true, result: "fail" },
    { label: "A-15", stratum: "one-pole", ratio: 1.5, censored: true, result: "fail" },
    { label: "B-01", stratum: "two-pole, each pole alone", ratio: 0.24, censored: false, result: "pass" },
    {
      label: "B-02",
      stratum: "two-pole, each pole alone",
      ratio: 0.4,
      censored: true,
      result: "undetermined",
    },
    { label: "B-03", stratum: "two-pole, each pole alone", ratio: 0.97, censored: false, result: "excluded" },
    { label: "B-04", stratum: "two-pole, each pole alone", ratio: 1.5, censored: true, result: "fail" },
  ],
  notes: [invented],
};

const modelTime = (multiple: number, tau: number, pickup: number) =>
  tau * Math.log(multiple ** 2 / (multiple ** 2 - pickup ** 2));
const modelCurve = (tau: number, pickup: number) =>
  Array.from({ length: 60 }, (_, i): [number, number] => {
    const multiple = pickup * 1.002 * 1.06 ** i;
    return [multiple, modelTime(multiple, tau, pickup)];
  });

export const timeCurrentExample: TimeCurrentFigureData = {
  title: "Specimen D-017: time against current",
  subject: "20 A, two poles, 120/240 V, thermal-magnetic; as found, then exercised twice",
  axis: "multiple",
  ratedAmps: 20,
  limits: [
    { multiple: 1, seconds: 7200, edge: "earliest", label: "hold for 2 h", readInDocument: false },
    { multiple: 1.35, seconds: 3600, edge: "latest", label: "trip within 1 h", readInDocument: false },
    { multiple: 2, seconds: 120, edge: "latest", label: "trip within 120 s", readInDocument: false },
    { multiple: 3, seconds: 50, edge: "latest", label: "trip within 50 s", readInDocument: true },
  ],
  bands: [
    {
      label: "published band, invented",
      current: "multiple",
      minimum: [
        [1.2, 600],
        [2, 18],
        [5, 1.6],
        [9, 0.4],
        [9.01, 0.005],
        [40, 0.005],
      ],
      maximum: [
        [1.35, 3000],
        [2, 80],
        [5, 7],
        [14, 1],
        [14.01, 0.02],
        [40, 0.016],
      ],
    },
  ],
  shots: [
    {
      label: "pole 1",
      multiple: 2.004,
      seconds: 34.2,
      outcome: "tripped",
      time: { lower: 27, upper: 43 },
      current: { lower: 1.97, upper: 2.04 },
    },
    {
      label: "pole 2",
      multiple: 1.998,
      seconds: 132,
      outcome: "held",
      time: null,
      current: { lower: 1.96, upper: 2.03 },
    },
    {
      label: "pole 1",
      multiple: 3,
      seconds: 12.1,
      outcome: "tripped",
      time: { lower: 11.6, upper: 12.7 },
      current: null,
    },
    {
      label: "pole 2",
      multiple: 3.01,
      seconds: 13.4,
      outcome: "tripped",
      time: { lower: 12.9, upper: null },
      current: null,
    },
    { label: "all poles", multiple: 1.35, seconds: 900, outcome: "interrupted", time: null, current: null },
  ],
  model: {
    label: "model fitted to pole 1",
    curve: modelCurve(118, 1.1),
    lower: modelCurve(100, 1.07),
    upper: modelCurve(140, 1.13),
  },
  ambient: "23.4 °C to 24.1 °C",
  startingState: "cold",
  limitSets: [
    { title: "Calibration points, invented for this test", confirmed: false },
    { title: "Band digitised for this test", confirmed: true },
  ],
  notes: ["Limits apply at the current as measured.", invented],
};

export const shotExample: ShotFigureData = {
  title: "Shot 12 of specimen D-017, pole 1",
  subject: "20 A at 200 %, cold, 23.4 °C; current as true RMS of each half cycle",
  trace: {
    t: [0, 0.5, 1, 1.01, ...Array.from({ length: 130 }, (_, i) => 1.05 + i * 0.25), 35.2, 35.22, 36],
    amps: [
      0,
      0.02,
      0.02,
      22,
      ...Array.from({ length: 130 }, (_, i) =>
        i > 60 && i < 66 ? null : 40.1 - 0.004 * i + 0.3 * Math.sin(i * 1.7),
      ),
      39.5,
      0.02,
      0.01,
    ],
  },
  onsetSeconds: 1.005,
  endSeconds: 35.21,
  outcome: "tripped",
  targetAmps: 40,
  effectiveAmps: 39.84,
  limits: [{ seconds: 30, label: "limit 30 s" }],
  readings: [
    { name: "time to trip", value: "34.205 s" },
    { name: "lies between", value: "34.20 s and 34.21 s" },
    { name: "expanded uncertainty", value: "0.61 s (k = 2)" },
    { name: "effective current", value: "39.84 A (199.2 %)" },
    { name: "lowest and highest", value: "39.27 A and 40.38 A" },
  ],
  notes: ["Thinned to the extremes of each stretch; nothing is averaged.", invented],
};

/** As many specimens as a strip must bear. */
export const crowdedMargins: MarginsData = {
  ...marginsExample,
  points: Array.from({ length: 300 }, (_, i) => ({
    label: `C-${i}`,
    stratum: i % 3 === 0 ? "one-pole" : "two-pole",
    ratio: Math.exp(
      -1.6 + 0.5 * Math.sin(i * 12.9898) + 0.4 * Math.sin(i * 4.1414) + (i % 23 === 0 ? 1.7 : 0),
    ),
    censored: i % 23 === 0,
    result: i % 23 === 0 ? "fail" : "pass",
  })),
};
