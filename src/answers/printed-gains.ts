/** Gains as papers print them, row by row along any column: to draw again what a paper shows. */
import { CallError } from "../errors.js";
import { improvementSign } from "../effects/improvement-sign.js";
import type { NamedFigure } from "../figures/figure-list.js";
import type { PrintedGain } from "../figures/printed-gains-figure.js";
import { fieldOf, fieldOfColumn } from "../records/codebook.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { checkedColumn, rowValue } from "../records/row-value.js";
import { kebabName } from "../tables/dose-table.js";
import { chosenRows, type Evidence } from "./evidence.js";

/** The change of a row in percent of the start, as printed or from its printed means. */
const changeOf = ({ changePercentMean, preMean, postMean }: OutcomeRow): number | undefined =>
  changePercentMean ??
  (preMean === undefined || postMean === undefined || preMean === 0
    ? undefined
    : (100 * (postMean - preMean)) / preMean);

/** Half of the 95% interval of the mean change, where a spread of the change and the people are printed. */
const halfOf = ({ changePercentSpread, spreadKind, nEnd }: OutcomeRow): number | undefined => {
  if (changePercentSpread === undefined) return undefined;
  if (spreadKind === "standard error") return 1.96 * changePercentSpread;
  return spreadKind === "standard deviation" && nEnd !== undefined
    ? (1.96 * changePercentSpread) / Math.sqrt(nEnd)
    : undefined;
};

const spreadsOf = (row: OutcomeRow): readonly (number | undefined)[] => [
  row.changePercentSpread,
  row.changeSpread,
  row.preSpread,
  row.postSpread,
  row.intervalLow,
];

/**
 * The gains that rows print, at their places along a column, as a figure to draw.
 *
 * @param where conditions as people type them, e.g. "outcome_family=strength, weeks>=8"
 * @param along a column with numbers, of the codebook or of the file's own
 * @throws {CallError} where no row prints a gain at a number of that column
 * @source none: 100 · (after − before) / before, and mean ± 1.96 standard errors
 */
export const printedGains = (evidence: Evidence, where: string, along: string): NamedFigure => {
  const rows = chosenRows(evidence, where);
  const column = checkedColumn(along, rows);
  const gains = rows.flatMap((row): readonly PrintedGain[] => {
    const value = rowValue(row, column);
    const x = typeof value === "number" ? value : Number.NaN;
    const change = changeOf(row);
    if (change === undefined || !Number.isFinite(x)) return [];
    const gain = improvementSign(row, "log-ratio-of-means") * change;
    const half = halfOf(row);
    const { study, arm, outcome, line } = row;
    return [
      {
        study,
        arm,
        outcome,
        line,
        x,
        gain,
        hasSpread: spreadsOf(row).some((spread) => spread !== undefined),
        low: half === undefined ? null : gain - half,
        high: half === undefined ? null : gain + half,
      },
    ];
  });
  if (gains.length === 0)
    throw new CallError({
      code: "no-points",
      where: "--along",
      needs: `rows that print a gain and a number in ${column}`,
      got: `${rows.length} rows without`,
    });
  const name = fieldOfColumn(column);
  return {
    name: "printed-gains",
    data: {
      id: `printed-gains-${kebabName(column.replaceAll("_", "-"))}`,
      title: `Gains as printed along ${column.replaceAll("_", " ")}`,
      along: name === undefined ? column : fieldOf(name).title,
      gains,
    },
  };
};
