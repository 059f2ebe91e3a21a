import { readFileSync } from "node:fs";
import { openEvidence, type Evidence } from "../../src/answers/evidence.js";
import { readTable } from "../../src/csv/read-table.js";
import { writeTable } from "../../src/csv/write-table.js";
import { parseImportMap } from "../../src/records/import-map.js";
import { importRows } from "../../src/records/import-rows.js";

/** A file's text opened for questions. */
export const evidenceOf = (text: string, name = "test.csv"): Evidence =>
  openEvidence({ name, fingerprint: "0".repeat(64), table: readTable(text) });

/**
 * The published outcomes of the first wave, as they shipped before the library grew: numbers that tests print are of
 * these 54 rows, so that a trial added to the library changes no test of the program.
 */
export const firstWave = "../tests/first-wave/published-outcomes.csv";

/** The text of a file that ships with the project, by its place in the data folder. */
export const shippedText = (name: string): string =>
  readFileSync(new URL(`../../data/${name}`, import.meta.url), "utf8");

const opened = new Map<string, Evidence>();

/** A file opened once in a worker, so that what one test had fitted to it is there for the next. */
const openedOnce = (place: string, text: () => string): Evidence => {
  const name = place.slice(place.lastIndexOf("/") + 1);
  const evidence = opened.get(place) ?? evidenceOf(text(), name);
  opened.set(place, evidence);
  return evidence;
};

/** A file that ships with the project. */
export const shippedEvidence = (name: string): Evidence =>
  openedOnce(name, () => shippedText(name));

/** The historic trials in the codebook's columns, as `holdbook import` writes them. */
export const historicText = (): string => {
  const { csv } = importRows(
    readTable(shippedText("historic_isometric_trials.csv")),
    parseImportMap(JSON.parse(shippedText("historic-isometric-map.json"))),
  );
  return writeTable(csv.header, csv.rows);
};

export const historicEvidence = (): Evidence => openedOnce("historic.csv", historicText);

/** Rows of a codebook file out of records of cells; columns in the order of first mention. */
export const codebookText = (
  rows: readonly Readonly<Record<string, string | number>>[],
): string => {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return [columns, ...rows.map((row) => columns.map((column) => row[column] ?? ""))]
    .map((cells) => cells.map((cell) => `"${cell}"`).join(","))
    .join("\n");
};

/** One arm before and after, means and deviations, with what differs from row to row. */
export const outcomeRow = (
  study: string,
  postMean: number,
  more: Readonly<Record<string, string | number>> = {},
): Readonly<Record<string, string | number>> => ({
  study,
  arm: "trained",
  arm_kind: "isometric",
  n_end: 12,
  weeks: 8,
  outcome: "peak isometric torque",
  outcome_family: "strength",
  test_mode: "isometric",
  unit: "N·m",
  statistic: "means at both times",
  pre_mean: 100,
  pre_spread: 15,
  post_mean: postMean,
  post_spread: 16,
  spread_kind: "standard deviation",
  pre_post_correlation: 0.9,
  ...more,
});

/** A row of strength printed as a percent change, by its study and the change. */
export const strengthRow = (
  study: string,
  change: number,
  more: Readonly<Record<string, string | number>> = {},
) => ({
  study,
  arm: "trained",
  arm_kind: "isometric",
  outcome: "peak isometric torque",
  outcome_family: "strength",
  n_end: 12,
  change_percent_mean: change,
  change_percent_spread: 9.5,
  ...more,
});
