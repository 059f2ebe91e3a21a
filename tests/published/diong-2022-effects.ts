import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";
import { readyEffects } from "../../src/answers/ready-effects.js";

const table = readTable(
  readFileSync(new URL("eccentric_flexibility_diong2022.csv", import.meta.url)),
);
const place = (name: string): number => table.header.indexOf(name);
const primary = table.rows.filter(({ cells }) => cells[place("in_primary_analysis")] === "1");
const chosen = ["study", "hedges_g", "variance", "limb"];

/** The thirty-five effects of the primary analysis, and what the author's log prints of them. */
export const diong2022Effects = {
  cite: "Diong J, Carden PCW, O'Sullivan K, Sherrington C, Reed DS (2022) Musculoskeletal Science and Practice",
  repository: "joannadiong/Diong_et_al_2022_MSP, commit 099a0e0",
  effects: readyEffects({
    header: ["study", "effect", "variance", "limb"],
    rows: primary.map(({ line, cells }) => ({
      line,
      cells: chosen.map((name) => cells[place(name)] ?? ""),
    })),
  }).effects,
  results: {
    /** DerSimonian–Laird, normal interval. */
    pooled: {
      estimate: "0.541",
      interval: ["0.339", "0.743"],
      z: "5.249",
      q: "67.64",
      degreesOfFreedom: 34,
      iSquaredPercent: "49.7",
      betweenVariance: "0.1744",
    },
    withoutTimmins2015: {
      estimate: "0.489",
      interval: ["0.335", "0.643"],
      q: "38.99",
      degreesOfFreedom: 33,
      iSquaredPercent: "15.4",
      betweenVariance: "0.0315",
    },
    /** Restricted maximum likelihood, Knapp–Hartung; upper limb against lower limb. */
    limb: {
      slope: "-0.2092015",
      slopeStandardError: "0.3549283",
      slopeInterval: ["-0.9313085", "0.5129054"],
      intercept: "0.5648475",
      interceptInterval: ["0.3201241", "0.809571"],
      betweenVariance: "0.1642",
    },
    egger: { bias: "0.3888157", standardError: "0.9626672", degreesOfFreedom: 33, p: "0.689" },
  },
} as const;
