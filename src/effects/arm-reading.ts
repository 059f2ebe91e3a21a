import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import { correlationFromDeviations } from "./correlation-from-deviations.js";
import { readChange } from "./read-change.js";
import { readMeans } from "./read-means.js";
import type { Refusal } from "./refusal.js";
import { isRefusal, rowNote } from "./refusal.js";
import { readingParticipants } from "./row-participants.js";

/** Everything one row prints about its arm, in means and standard deviations, the outcome's own direction. */
export type ArmReading = Readonly<{
  row: OutcomeRow;
  /** People measured; `manyPeople` where the row prints its own error and not how many they were. */
  participants: number;
  meanBefore?: number;
  deviationBefore?: number;
  meanAfter?: number;
  deviationAfter?: number;
  meanChange?: number;
  changeDeviation?: number;
  /** Paired t with the sign of the change, where the row gives a test. */
  t?: number;
  percentMean?: number;
  percentDeviation?: number;
  correlation?: Readonly<{
    value: number;
    source: "stated in the source" | "computed from printed deviations";
  }>;
  /** How the means, the spread of the changes and the percent changes were printed, in plain words. */
  meansRoute: string;
  changeRoute: string;
  percentRoute: string;
  notes: readonly Note[];
}>;

/**
 * One row's numbers about its arm, whatever form they were printed in.
 *
 * Nothing is assumed here: what a row does not print or imply stays absent, and the scale decides
 * whether it can do without.
 *
 * @param row  a row whose numbers are of the change within its arm
 * @returns the reading, or why there is none
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6, for the conversions
 */
export const armReading = (row: OutcomeRow): ArmReading | Refusal => {
  const people = readingParticipants(row);
  if (isRefusal(people)) return people;
  const { participants } = people;
  const notes: Note[] = [...people.notes];
  const means = readMeans(row, participants);
  const change = readChange(row, { participants, means });
  if (isRefusal(change)) return change;
  notes.push(...means.notes, ...change.notes);
  const spreads = [row.preSpread, row.postSpread, row.changeSpread, row.changePercentSpread];
  if (row.spreadKind === undefined && spreads.some((spread) => spread !== undefined)) {
    notes.push(
      rowNote(
        row,
        "spread-kind-blank",
        "the kind of spread is not coded; it is taken as a standard deviation",
      ),
    );
  }
  const agreed = agreedCorrelation(row, {
    before: means.deviationBefore,
    after: means.deviationAfter,
    change: change.changeDeviation,
  });
  notes.push(...agreed.notes);
  const { meanBefore, meanAfter, meanChange, percentMean, percentDeviation } = change;
  const { deviationBefore, deviationAfter } = means;
  const { changeDeviation, t } = agreed.impossible ? {} : { ...change };
  return {
    row,
    participants,
    ...(meanBefore !== undefined && { meanBefore }),
    ...(deviationBefore !== undefined && { deviationBefore }),
    ...(meanAfter !== undefined && { meanAfter }),
    ...(deviationAfter !== undefined && { deviationAfter }),
    ...(meanChange !== undefined && { meanChange }),
    ...(changeDeviation !== undefined && { changeDeviation }),
    ...(t !== undefined && { t }),
    ...(percentMean !== undefined && { percentMean }),
    ...(percentDeviation !== undefined && { percentDeviation }),
    ...(agreed.correlation !== undefined && { correlation: agreed.correlation }),
    meansRoute: means.route,
    changeRoute: change.route,
    percentRoute: change.percentRoute,
    notes,
  };
};

type Agreed = Readonly<{
  correlation?: NonNullable<ArmReading["correlation"]>;
  impossible: boolean;
  notes: readonly Note[];
}>;

/** The stated correlation, else the one three printed deviations imply; a check of one against the other. */
const agreedCorrelation = (
  row: OutcomeRow,
  deviations: Readonly<Record<"before" | "after" | "change", number | undefined>>,
): Agreed => {
  const stated = row.prePostCorrelation;
  const ofStated =
    stated === undefined || Math.abs(stated) >= 1
      ? {}
      : { correlation: { value: stated, source: "stated in the source" as const } };
  const { before, after, change } = deviations;
  if (!before || !after || change === undefined)
    return { ...ofStated, impossible: false, notes: [] };
  const implied = correlationFromDeviations({ before, after, change });
  if (Math.abs(implied) >= 1) {
    return {
      ...ofStated,
      impossible: true,
      notes: [
        rowNote(
          row,
          "impossible-correlation",
          `the three deviations imply a pre–post correlation ${Math.abs(implied) < 1000 ? `of ${implied.toFixed(2)}` : "beyond all bounds"}, which cannot be; ` +
            `one of them is wrong (a standard error taken for a deviation?), and the spread of the changes is not used`,
        ),
      ],
    };
  }
  if (stated === undefined) {
    const notes =
      implied < 0
        ? [
            rowNote(
              row,
              "negative-correlation",
              `the three deviations imply a pre–post correlation of ${implied.toFixed(2)}; below 0 is unusual, so look at the spreads again`,
            ),
          ]
        : [];
    const source = "computed from printed deviations" as const;
    return { correlation: { value: implied, source }, impossible: false, notes };
  }
  const notes =
    Math.abs(implied - stated) > 0.1
      ? [
          rowNote(
            row,
            "correlations-disagree",
            `the source states a pre–post correlation of ${stated} and its deviations imply ${implied.toFixed(2)}; the stated one is used`,
          ),
        ]
      : [];
  return { ...ofStated, impossible: false, notes };
};
