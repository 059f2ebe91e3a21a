/** Every outcome on one scale: its effect, the route it came by, and what became of each row. */
import * as z from "zod";
import { effectSubset } from "../effects/effect-subset.js";
import { contrastShortLabel, scaleLabel } from "../effects/scale-label.js";
import { scales } from "../effects/scales.js";
import { assumptionsTable } from "../tables/assumptions-table.js";
import { counted } from "../tables/number-format.js";
import { plainTable } from "../tables/table.js";
import { noEffects } from "./average.js";
import { effectShape, effectsOptionsOf } from "./effect-options.js";
import { ownEffectsTable } from "./effects-figures.js";
import { effectsOf, linesOf } from "./evidence.js";
import { countsOf } from "./outcome-groups.js";
import { question } from "./question.js";

/** Every effect on one scale and contrast, with its variance, its route and what was assumed for it. */
export const effects = question({
  id: "effects",
  options: effectShape,
  choices: [],
  data: {
    effects: z.array(
      z.looseObject({
        effectId: z.string(),
        study: z.string(),
        estimate: z.number(),
        variance: z.number(),
        route: z.string(),
        line: z.number(),
        /** The spreads that are borrowed, with their values and where they came from. */
        borrowed: z
          .array(
            z.looseObject({
              coefficient: z.number(),
              studies: z.number(),
              of: z.string(),
              movedTo: z.string().optional(),
            }),
          )
          .optional(),
      }),
    ),
    rowUses: z.array(z.looseObject({ line: z.number(), use: z.string(), reason: z.string() })),
    assumptions: z.array(z.looseObject({ name: z.string(), value: z.number() })),
    fingerprint: z.string(),
    /** The work that gives the scale's formula. */
    scaleSource: z
      .object({ key: z.string(), citation: z.string(), doi: z.string().optional() })
      .nullable(),
  },
  prepare: (evidence, options) => ({
    set: effectsOf(evidence, effectsOptionsOf(options)),
    evidence,
  }),
  answer: ({ set, evidence: { records, source } }, { confidence }) => {
    const { scale, contrast, rowUses, assumptions, notes } = set;
    const about = `${contrastShortLabel(contrast)}, on the scale ${scaleLabel(scale)}`;
    const setAside = rowUses.filter(({ use }) => use === "set aside");
    const reasons = new Map<string, number>();
    for (const { reason } of setAside) reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
    const refused = records.fates.filter(({ fate }) => fate === "refused").length;
    const none = set.effects.length === 0;
    const named = (name: string) => `${name}-${contrast}`;
    return {
      headline: none
        ? `No effect ${about}: no row reaches it.`
        : `${countsOf(set.effects)}, ${about}. Positive means improvement.`,
      sentences: [
        ...(refused === 0
          ? []
          : [
              `${refused} of ${counted(records.rowsInFile, "row", "rows")} were refused and are not in what follows; holdbook check lists them with their mends.`,
            ]),
        ...(setAside.length === 0
          ? []
          : [
              `${counted(setAside.length, "row", "rows")} gave no effect: ${[...reasons].map(([reason, count]) => `${count} × ${reason}`).join("; ")}.`,
            ]),
      ],
      tables: [
        ...[...new Set(set.effects.map((effect) => effect.scale))].map((own, index) => ({
          ...ownEffectsTable(
            { ...effectSubset(set, (effect) => effect.scale === own), scale: own },
            confidence,
          ),
          id: index === 0 ? named("effects") : `${named("effects")}-${index + 1}`,
        })),
        { ...assumptionsTable(assumptions), id: named("assumptions") },
        {
          ...plainTable(
            named("row-uses"),
            ["line", "use", "reason"],
            rowUses.map(({ line, use, reason }) => [String(line), use, reason]),
          ),
          place: "file",
        },
      ],
      notes,
      refusal: none ? noEffects : undefined,
      data: {
        scale,
        contrast,
        confidence,
        rowsUsed: linesOf(set),
        fingerprint: source.fingerprint,
        blocks: set.blocks,
        rowUses,
        assumptions,
        scaleSource: scales[scale].source ?? null,
        notes,
        effects: set.effects.map(({ row, comparatorRow, ...effect }) => ({
          ...effect,
          line: row.line,
          comparatorLine: comparatorRow?.line ?? null,
          outcome: row.outcome,
          outcomeFamily: row.outcomeFamily ?? null,
          statistic: row.statistic ?? null,
        })),
      },
    };
  },
});
