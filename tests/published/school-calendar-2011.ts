import { readFileSync } from "node:fs";
import { readTable } from "../../src/csv/read-table.js";
import type { SynthesisEffect } from "../../src/synthesis/synthesis-input.js";

const table = readTable(readFileSync(new URL("school_calendar_from_memory.csv", import.meta.url)));

/**
 * Fifty-six schools in eleven districts. Konstantopoulos (2011) Research Synthesis Methods 2:61–76.
 * Data and results typed from memory.
 */
export const schoolCalendar2011 = {
  effects: table.rows.map(({ cells }): SynthesisEffect => {
    const cell = (name: string): string => cells[table.header.indexOf(name)] ?? "";
    return {
      study: cell("district"),
      arm: cell("school"),
      effectId: cell("effect_id"),
      estimate: Number(cell("smd")),
      variance: Number(cell("variance")),
    };
  }),
  results: {
    q: "578.86",
    twoLevel: { betweenVariance: "0.0884", estimate: "0.1279", standardError: "0.0439" },
    restricted: {
      estimate: "0.1847",
      standardError: "0.0846",
      betweenDistricts: "0.0651",
      betweenSchools: "0.0327",
      logLikelihood: "-7.9587",
    },
    full: {
      estimate: "0.184",
      standardError: "0.080",
      betweenDistricts: "0.058",
      betweenSchools: "0.033",
    },
  },
} as const;
