import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";

const table = readTable(
  readFileSync(new URL("eccentric_flexibility_diong2022_prepost.csv", import.meta.url)),
);

/** Forty-four comparisons with means and deviations before and after in both arms, as published. */
export const diong2022 = {
  cite: "Diong J, Carden PCW, O'Sullivan K, Sherrington C, Reed DS (2022) Musculoskeletal Science and Practice",
  repository: "joannadiong/Diong_et_al_2022_MSP, commit 099a0e0",
  comparisons: table.rows.map(({ cells }) => {
    const cell = (name: string): string => cells[table.header.indexOf(name)] ?? "";
    const number = (name: string): number => Number(cell(name));
    const arm = (prefix: "ex" | "con") => ({
      before: { mean: number(`${prefix}_pre_mean`), deviation: number(`${prefix}_pre_sd`) },
      after: { mean: number(`${prefix}_post_mean`), deviation: number(`${prefix}_post_sd`) },
      participants: number(`${prefix}_n`),
    });
    return {
      study: cell("study"),
      treated: arm("ex"),
      control: arm("con"),
      /** Printed by the author: standardised difference of changes, and its variance. */
      estimate: cell("hedges_g"),
      variance: cell("variance"),
      /** 2 marks rows whose direction the author turned. */
      direction: cell("effect_direction"),
    };
  }),
} as const;
