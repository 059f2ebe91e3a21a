/** Which question draws each kind of figure beside those of `curve-kinds.ts`, for the tests that look at every kind. */
import { ask } from "../../src/answers/ask.js";
import type { FigureName, NamedFigure } from "../../src/figures/figure-list.js";
import { printedGains } from "../../src/answers/printed-gains.js";
import { shippedEvidence, shippedText } from "../answers/evidence-under-test.js";
import type { curveKinds } from "./curve-kinds.js";
import { movedAverages } from "./moved-averages.js";

const long = "4 x 30 s at 60%, rest 90 s, 3/week, 12 weeks, long, knee";
const short = "4 x (5 x 3 s) at 95%, rests 10 s and 120 s, 3/week, 12 weeks, long, knee";
const four = [
  `Long holds: ${long}`,
  `Short holds: ${short}`,
  "Maximal: 6 x 10 s, maximal, rest 60 s, 3/week, 12 weeks, long, knee",
  "Many: 20 x 6 s at 70%, rest 30 s, 3/week, 12 weeks, middle, knee",
].join("\n");

type Asked = readonly [question: string, options: Readonly<Record<string, unknown>>];

const questions = {
  variables: [["variables", { outcome: "strength" }]],
  statements: [["statements", {}]],
  estimates: [["pool", { outcome: "strength" }]],
  "equal-tension": [["equal-tension", {}]],
  "single-trials": [["single-trials", { outcome: "strength" }]],
  projection: [["project", { protocol: long, goal: "size" }]],
  "left-out": [["project", { protocol: long, goal: "strength" }]],
  comparison: [
    ["compare", { protocols: `A: ${long}\nB: ${short}`, goal: "size" }],
    ["compare", { protocols: four, goal: "strength" }],
  ],
  frontier: [["explore", { goal: "size", minutes: 15, sessions: 3, intensityUpTo: 80 }]],
  sessions: [
    ["compare", { protocols: four, goal: "size" }],
    ["hold", { protocol: long }],
  ],
  follow: [["follow", { protocol: long, log: shippedText("example-client-log.csv") }]],
  "evidence-map": [["check", {}]],
  "remaining-capacity": [["hold", { protocol: long }]],
  ramp: [
    ["ramp", { protocol: long, from: "trained", weeks: 8 }],
    [
      "ramp",
      { protocol: "4 x 45 s at 70%, rest 120 s, 3/week, long", from: "deconditioned", weeks: 44 },
    ],
    [
      "ramp",
      {
        protocol: "4 x (5 x 3 s), maximal, rests 15 s and 2 min, 3/week, long, as fast as possible",
        from: "trained",
        weeks: 24,
      },
    ],
  ],
  sweep: [["sweep", { outcome: "tendon", most: 20 }]],
  settle: [["settle", { outcome: "strength", on: "hold-seconds", simulations: 20 }]],
  "not-known": [["settle", { on: "average", simulations: 20 }]],
  "risk-of-bias": [["risk-of-bias", {}]],
  changes: [],
  "printed-gains": [],
  lines: [],
} satisfies Record<Exclude<FigureName, (typeof curveKinds)[number]>, readonly Asked[]>;
type AskedKind = keyof typeof questions;

/** Files they are asked of; what a file draws no figure of is drawn from the other. */
export const figureFiles = ["demo-register.csv", "published-outcomes.csv"] as const;

/** Sentences on a slide, with and without a name before them. */
const saidLines: NamedFigure = {
  name: "lines",
  data: {
    id: "lines",
    title: "What the file cannot tell",
    caption: "Said as the answers say it.",
    rows: Array.from({ length: 7 }, (_, place) => ({
      name: place === 0 ? "" : `Variable ${place}, between sets`,
      text: "Two studies compared it, and at least three are needed before anything can be told; a trial of three groups would do.",
    })),
  },
};

/** Every figure of a kind that the questions draw from a file. */
export const figuresOfKind = async (
  kind: AskedKind,
  file: (typeof figureFiles)[number],
): Promise<readonly NamedFigure[]> => {
  if (kind === "lines") return [saidLines];
  // To ask this of two whole files takes half a minute.
  if (kind === "changes") return [movedAverages(file)];
  if (kind === "printed-gains")
    return [printedGains(shippedEvidence(file), "outcome_family=strength", "weeks")];
  const drawn: NamedFigure[] = [];
  for (const [question, options] of questions[kind] as readonly Asked[]) {
    const { figures } = (await ask(
      question as "pool",
      options,
      shippedEvidence(file),
    )) as Readonly<{ figures: readonly NamedFigure[] }>;
    drawn.push(...figures.filter(({ name }) => name === kind));
  }
  return drawn;
};

export const askedKinds = Object.keys(questions) as AskedKind[];
