import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ReadMeans } from "./read-means.js";
import { fromMedian, fromMediansNote, printedDeviation, spreadWords } from "./read-means.js";
import type { Refusal } from "./refusal.js";
import { rowNote } from "./refusal.js";
import { standardDeviationFromInterval } from "./standard-deviation-from-standard-error.js";
import { readTest } from "./read-test.js";
import { changeDeviationFromT } from "./standard-deviation-from-test.js";

/** What a row says of its changes, beside the means. */
export type ReadChange = Readonly<{
  changeDeviation?: number;
  meanBefore?: number;
  meanAfter?: number;
  meanChange?: number;
  t?: number;
  percentMean?: number;
  percentDeviation?: number;
  route: string;
  percentRoute: string;
  notes: readonly Note[];
}>;

/**
 * Mean change and spread of the changes, from the first of: printed spread, interval, t, F, p.
 *
 * @param row  a row whose numbers are of the change within its arm
 * @param known  people and the means already read
 * @returns what the row gives, or why its numbers contradict each other
 * @source Cochrane Handbook for Systematic Reviews of Interventions, chapter 6
 */
export const readChange = (
  row: OutcomeRow,
  known: Readonly<{ participants: number; means: ReadMeans }>,
): ReadChange | Refusal => {
  const { participants, means } = known;
  const notes: Note[] = [];
  const interval = readInterval(row);
  const { meanBefore, meanAfter } = filledMeans(row, means);
  const percentOnly =
    row.changePercentMean !== undefined &&
    row.changeMean === undefined &&
    (meanBefore === undefined || meanAfter === undefined);
  const ofMeans =
    meanBefore === undefined || meanAfter === undefined ? undefined : meanAfter - meanBefore;
  const ofMedian = fromMedian(row, "change", participants);
  if (ofMedian.read !== undefined) notes.push(fromMediansNote(row));
  if (ofMedian.refused !== undefined)
    notes.push(rowNote(row, "medians-unusable", ofMedian.refused));
  const meanChange = percentOnly
    ? undefined
    : (row.changeMean ?? ofMeans ?? interval?.middle ?? ofMedian.read?.mean);
  if (row.changeMean !== undefined && ofMeans !== undefined) {
    const allowed = 0.1 * Math.max(Math.abs(ofMeans), Math.abs(row.changeMean));
    if (Math.abs(row.changeMean - ofMeans) > allowed) {
      notes.push(
        rowNote(
          row,
          "change-disagrees",
          `the printed mean change (${row.changeMean}) is not the difference of the means (${Number(ofMeans.toPrecision(6))})`,
        ),
      );
    }
  }
  const centre = percentOnly ? row.changePercentMean : meanChange;
  if (interval !== undefined && centre !== undefined) {
    if (!(interval.low <= centre && centre <= interval.high)) {
      return {
        refused: `the mean change (${centre}) lies outside its interval (${interval.low} to ${interval.high})`,
      };
    }
  }
  const test = readTest(row, {
    degreesOfFreedom: participants - 1,
    meanChange: centre,
    deviationsKnown: means.deviationBefore !== undefined && means.deviationAfter !== undefined,
  });
  notes.push(...test.notes);
  const spread =
    spreadOf(row, { participants, centre, interval, test, percent: percentOnly }) ??
    (ofMedian.read === undefined || percentOnly
      ? undefined
      : {
          deviation: ofMedian.read.deviation,
          words: "mean and spread of the changes from their median (Luo 2018, Wan 2014)",
        });
  const percentDeviation = percentOnly
    ? spread?.deviation
    : printedDeviation(row, row.changePercentSpread, participants);
  return {
    ...(meanBefore !== undefined && { meanBefore }),
    ...(meanAfter !== undefined && { meanAfter }),
    ...(meanChange !== undefined && { meanChange }),
    ...(!percentOnly && spread !== undefined && { changeDeviation: spread.deviation }),
    ...(test.signed !== undefined && !percentOnly && { t: test.signed }),
    ...(row.changePercentMean !== undefined && { percentMean: row.changePercentMean }),
    ...(percentDeviation !== undefined && { percentDeviation }),
    route: percentOnly ? (test.words ?? "") : (spread?.words ?? test.words ?? ""),
    percentRoute: percentOnly ? (spread?.words ?? "") : spreadWords(row),
    notes,
  };
};

const readInterval = (
  row: OutcomeRow,
): Readonly<{ low: number; high: number; middle: number }> | undefined => {
  const { intervalLow: low, intervalHigh: high } = row;
  // Beside an effect computed elsewhere the interval is that effect's.
  const counts = row.statistic !== "effect computed elsewhere";
  if (!counts || low === undefined || high === undefined || low >= high) return undefined;
  return { low, high, middle: (low + high) / 2 };
};

/** The means, one of them filled in from the other and the printed mean change where it is missing. */
const filledMeans = (
  row: OutcomeRow,
  means: ReadMeans,
): Readonly<{ meanBefore: number | undefined; meanAfter: number | undefined }> => {
  const { meanBefore, meanAfter } = means;
  const change = row.changeMean ?? readInterval(row)?.middle;
  return {
    meanBefore:
      meanBefore ??
      (meanAfter !== undefined && change !== undefined ? meanAfter - change : undefined),
    meanAfter:
      meanAfter ??
      (meanBefore !== undefined && change !== undefined ? meanBefore + change : undefined),
  };
};

const spreadOf = (
  row: OutcomeRow,
  given: Readonly<{
    participants: number;
    centre: number | undefined;
    interval: Readonly<{ low: number; high: number }> | undefined;
    test: Readonly<{ size?: number; words?: string }>;
    percent: boolean;
  }>,
): Readonly<{ deviation: number; words: string }> | undefined => {
  const { participants, centre, interval, test } = given;
  const printed = printedDeviation(
    row,
    given.percent ? row.changePercentSpread : row.changeSpread,
    participants,
  );
  const which = given.percent ? "percent changes" : "changes";
  if (printed !== undefined) {
    return { deviation: printed, words: `spread of the ${which} printed as ${spreadWords(row)}` };
  }
  if (interval !== undefined) {
    const percent = row.intervalPercent ?? 95;
    return {
      deviation: standardDeviationFromInterval({ ...interval, participants, percent }),
      words: `spread of the ${which} from the ${percent}% interval`,
    };
  }
  if (test.size === undefined || test.size === 0 || centre === undefined || centre === 0) {
    return undefined;
  }
  return {
    deviation: changeDeviationFromT({ meanChange: centre, t: test.size, participants }),
    words: `spread of the ${which} from the ${test.words ?? "test"}`,
  };
};
