/** What the file holds, and every effect made of it. */
import { contrastOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import type { Table } from "../tables/table.js";
import { askedContrasts } from "./pooled-parts.js";
import type { PartMaker } from "./report-part.js";

/** The file: what became of its rows, its problems, and what has been studied. */
export const dataPart: PartMaker = async (ask) => ({
  id: "data",
  title: "The data",
  lead: [],
  answers: [{ id: "check", title: "The file", answer: await ask("check") }],
});

/** Tables that the pooled answers show group by group already are written beside the page. */
const beside = (table: Table): Table =>
  table.id.startsWith("effects-") ? { ...table, place: "file" } : table;

/** Every effect with what was assumed for it, contrast by contrast. */
export const effectsPart: PartMaker = async (ask) => {
  const answers = [];
  for (const contrast of await askedContrasts(ask)) {
    const answer = await ask("effects", { contrast });
    answers.push({
      id: `effects-${contrast}`,
      title: `Effects ${valueLabel(contrastOption, contrast)}`,
      answer: { ...answer, tables: answer.tables.map(beside) },
    });
  }
  return {
    id: "effects",
    title: "From rows to effects",
    lead: ["Every effect stands with its route in tables/effects-….csv."],
    answers,
  };
};
