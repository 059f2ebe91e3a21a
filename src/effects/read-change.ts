import type { Note } from "../errors.js";
import type { OutcomeRow } from "../records/outcome-row.js";
import type { ReadMeans } from "./read-means.js";
import { printedDeviation, spreadWords } from "./read-means.js";
import type { Refusal } from "./refusal.js";
import { rowNote } from "./refusal.js";
import { standardDeviationFromInterval } from "./standard-deviation-from-standard-error.js";
import { changeDeviationFromT, tFromF, tFromP } from "./standard-deviation-from-test.js";

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

type Names = "tValue" | "fValue" | "pValue";
const formOf = { tValue: "t value", fValue: "F value", pValue: "p value" } as const;

/** Whether a printed test may be used: named as the row's form, the form left blank, or t beside means. */
const testCounts = (row: OutcomeRow, name: Names): boolean =>
  row[name] !== undefined &&
  (row.statistic === undefined ||
    row.statistic === formOf[name] ||
    (name === "tValue" &&
      (row.statistic === "means at both times" || row.statistic === "change with spread")));

const thresholds = [0.05, 0.025, 0.01, 0.005, 0.001, 0.0001];

/** Paired t with its sign, from the first test the row prints. */
const readTest = (
  row: OutcomeRow,
  degreesOfFreedom: number,
  meanChange: number | undefined,
): Readonly<{ size?: number; signed?: number; words?: string; notes: readonly Note[] }> => {
  const notes: Note[] = [];
  const change = Math.sign(meanChange ?? 0);
  if (testCounts(row, "tValue") && row.tValue !== undefined) {
    if (change !== 0 && row.tValue !== 0 && Math.sign(row.tValue) !== change) {
      notes.push(
        rowNote(
          row,
          "sign-disagrees",
          `the t value (${row.tValue}) and the mean change have different signs; the sign of the change is used`,
        ),
      );
    }
    const size = Math.abs(row.tValue);
    const sign = change === 0 ? Math.sign(row.tValue) : change;
    return { size, signed: sign * size, words: "paired t value", notes };
  }
  const useF = testCounts(row, "fValue");
  if (!useF && !testCounts(row, "pValue")) return { notes };
  const p = row.pValue ?? 1;
  if (!useF && !(p > 0)) {
    notes.push(
      rowNote(
        row,
        "p-of-zero",
        "a p value of 0 cannot be turned into a spread; give the bound it stands for",
      ),
    );
    return { notes };
  }
  const size = useF ? tFromF(row.fValue ?? 0) : tFromP({ p, degreesOfFreedom });
  if (!useF && thresholds.includes(p)) {
    notes.push(
      rowNote(
        row,
        "p-threshold",
        `the p value (${p}) looks like a threshold; taken as exact, it makes the spread too large rather than too small`,
      ),
    );
  }
  const told = row.direction === undefined ? 0 : row.direction === "decrease" ? -1 : 1;
  if (change !== 0 && told !== 0 && change !== told) {
    notes.push(
      rowNote(
        row,
        "sign-disagrees",
        "the direction coded and the mean change disagree; the sign of the change is used",
      ),
    );
  }
  const sign = change === 0 ? told : change;
  const words = useF ? "F value on one degree of freedom" : "two-sided p value";
  return { size, words, notes, ...(sign !== 0 && { signed: sign * size }) };
};

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
  const meanChange = percentOnly ? undefined : (row.changeMean ?? ofMeans ?? interval?.middle);
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
  const test = readTest(row, participants - 1, centre);
  notes.push(...test.notes);
  const spread = spreadOf(row, { participants, centre, interval, test, percent: percentOnly });
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
  const counts = row.statistic === undefined || row.statistic === "change with interval";
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
      words: `spread of the ${which} from the ${percent} % interval`,
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
