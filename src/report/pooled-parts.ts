/** The averages: all at a glance, then each with its figures and what it rests on. */
import { contrastOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { pooledContrasts, type PooledContrast } from "../answers/row-fates.js";
import { capital } from "../tables/number-format.js";
import { folded } from "../tables/table.js";
import type { FigureName } from "../figures/figure-list.js";
import { showing, type Ask, type PartMaker, type PlacedAnswer } from "./report-part.js";

/** Figures of an average that are read; its precision stands in words. */
const shownOfAverages: readonly FigureName[] = ["estimates"];

type ReportContrast = PooledContrast | "between-arms";

/** The contrast that the report was asked for; before to after where none was. */
const wishedContrast = async (ask: Ask): Promise<ReportContrast> =>
  (await ask("pool")).data.contrast ?? pooledContrasts[0];

/** The contrasts that the file has effects of; arms against each other only where they were asked for. */
export const askedContrasts = async (ask: Ask): Promise<readonly ReportContrast[]> => {
  const found: ReportContrast[] = [];
  for (const contrast of new Set([...pooledContrasts, await wishedContrast(ask)])) {
    const { data } = await ask("pool", { contrast });
    if (data.groups.length > 0) found.push(contrast);
  }
  return found;
};

/** The gain that protocols are projected by: a change within the arm, which is what a person measures, unless told. */
export const gainContrast = async (ask: Ask): Promise<PooledContrast> => {
  const wished = await wishedContrast(ask);
  return wished === "between-arms" ? pooledContrasts[0] : wished;
};

/** Every average in one table for each contrast. */
export const answersPart: PartMaker = async (ask) => {
  const answers: PlacedAnswer[] = [];
  const wished = await wishedContrast(ask);
  const found = await askedContrasts(ask);
  // Between training arms there is no average, and the answer says why and what is shown instead.
  for (const contrast of wished === "between-arms" ? [...found, wished] : found) {
    const answer = await ask("pool", { contrast });
    answers.push({
      id: `answers-${contrast}`,
      title: capital(valueLabel(contrastOption, contrast)),
      // Figures and models stand below, with each answer by itself.
      answer: {
        ...answer,
        figures: [],
        tables: answer.tables.flatMap((table) =>
          table.place === undefined ? [table.id.startsWith("beside-") ? folded(table) : table] : [],
        ),
      },
    });
  }
  return {
    id: "answers",
    title: "Answers",
    lead: [
      ...(answers.length === 0
        ? ["No row reached the scale, so there is no answer; what became of the rows says why."]
        : []),
      "A change from before to after contains learning, expectation and time as well as training; the answer against no exercise leaves those out. The interval is about the average of such studies; where a further study would fall is the second range.",
    ],
    answers,
  };
};

/** Each average by itself: its effects drawn in the contrast asked for, model, effects. */
export const pooledPart: PartMaker = async (ask, wishes) => {
  const places = new Map<string, PlacedAnswer[]>();
  const contrasts = await askedContrasts(ask);
  const wished = await wishedContrast(ask);
  const led = contrasts.includes(wished) ? wished : contrasts[0];
  for (const contrast of contrasts) {
    const { data } = await ask("pool", { contrast });
    for (const one of data.groups) {
      const { id, group } = one;
      // What has no average is told with the others and has nothing to look at closer.
      if ("refusal" in one && wishes.full !== true) continue;
      const answer = showing(
        await ask("pool", { contrast, outcome: id }),
        contrast === led ? shownOfAverages : [],
        wishes,
      );
      const title = capital(`${group}, ${valueLabel(contrastOption, contrast)}`);
      // Averages and the lines beside them stand above, with all others.
      const tables = answer.tables.filter(({ id: table }) => !/^(averages|beside)-/.test(table));
      places.set(id, [
        ...(places.get(id) ?? []),
        { id: `${id}-${contrast}`, title, answer: { ...answer, tables } },
      ]);
    }
  }
  return places.size === 0
    ? undefined
    : {
        id: "pooled",
        title: "Each answer closer",
        lead: [],
        appendix: true,
        answers: [...places.values()].flat(),
      };
};
