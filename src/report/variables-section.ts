import { variableTable } from "../dose/variable-table.js";
import { statedAmount } from "../dose/verdict.js";
import {
  variablesDataTable,
  variablesRules,
  variablesSentences,
  variablesTable,
} from "../tables/variables-table.js";
import type { SectionMaker } from "./old-sections.js";

/**
 * The table of protocol variables, one for each outcome family, with the rules of its verdicts.
 *
 * Left out for effects in raw units, where no amount that counts is known, and for files without a dose.
 *
 * @source as in variableTable
 */
export const variablesSection: SectionMaker = (analysis, _wishes, progress) => {
  // Changes within arms, where the file has them: every arm then has its own dose and no control is needed.
  const set =
    analysis.sets.find(({ contrast }) => contrast === "change-within-arm") ??
    analysis.sets.find(({ contrast }) => contrast === "against-control");
  if (set === undefined || set.effects.length === 0) return undefined;
  if (statedAmount("strength", set.scale) === undefined) return undefined;
  progress("which variables matter");
  const table = variableTable(set, { confidence: analysis.confidence });
  const told = table.families.filter((family) =>
    table.rows.some((row) => row.family === family && row.verdict.verdict !== "not studied"),
  );
  if (told.length === 0) return undefined;
  return {
    id: "variables",
    title: "Which variables matter",
    sentences: [...variablesSentences(table), ...variablesRules(table)],
    figures: [],
    tables: told.map((family) => variablesTable(table, family)),
    dataTables: [variablesDataTable(table)],
  };
};
