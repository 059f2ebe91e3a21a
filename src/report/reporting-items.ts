/** What a published synthesis is asked to report, item by item: filled in where the program knows, asked for where only the author does. */
import { scaleOption } from "../answers/effect-options.js";
import { valueLabel } from "../answers/option.js";
import { counted } from "../tables/number-format.js";
import type { Table } from "../tables/table.js";
import { answersTo, type Report } from "./report-part.js";

/** One item: its number and topic, and what is known of it; what only the author knows begins with "Yours". */
type Item = readonly [number: string, topic: string, told: string];

/**
 * The items of the PRISMA 2020 statement with what this report has of each.
 *
 * @source Page MJ et al. (2021) BMJ 372:n71 (numbers and topics; the words are ours)
 */
export const reportingTable = (report: Report): Table => {
  const [file] = answersTo(report, "check");
  const [set] = answersTo(report, "effects");
  const [studies] = answersTo(report, "studies");
  const refused = report.parts.some(({ id }) => id === "doubts") ? "Part Doubts." : "Not asked.";
  const items: readonly Item[] = [
    ["1", "Title", "Yours: name it a systematic review only if the search was one."],
    ["2", "Abstract", "Yours; the brief gives numbers and limits for it."],
    ["3", "Rationale", "Yours."],
    ["4", "Objectives", "Yours; each answer here says what was asked."],
    [
      "5",
      "Which studies may enter, and how they were grouped",
      "Yours: the criteria. Grouped here by kind of outcome, way of testing and contrast.",
    ],
    ["6", "Sources searched, and when", "Yours."],
    ["7", "Search strategies in full", "Yours."],
    ["8", "How studies were selected", "Yours: how many people, independently or not."],
    [
      "9",
      "How data were collected",
      "Yours: who coded and checked. The file's fingerprint says which version.",
    ],
    ["10a", "Outcomes sought", "Yours: which were sought. Kinds of outcome found: part Answers."],
    ["10b", "Other variables sought", "Columns and how often each is coded: part The data."],
    ["11", "How bias within studies was judged", "Yours; not judged here."],
    [
      "12",
      "Effect measures",
      set === undefined ? "None computed." : `The ${valueLabel(scaleOption, set.data.scale)}.`,
    ],
    ["13a", "Which studies entered each synthesis", "Part Each answer closer, effect by effect."],
    ["13b", "How data were prepared", "Methods: conversions, correlations, what was assumed."],
    ["13c", "How results are shown", "Figures with their numbers as CSV in the folder figures."],
    ["13d", "How results were synthesised", "Methods."],
    [
      "13e",
      "How causes of differences were explored",
      "Parts Which variables matter and How the gain follows the dose.",
    ],
    ["13f", "How robust the results are", "Part Doubts, and the lines beside each average."],
    ["14", "How missing results were judged", "Methods and part Doubts: small and large studies."],
    ["15", "How certainty was judged", "Yours; the brief gives reasons and no grade."],
    [
      "16a",
      "Flow of studies",
      `Yours: records found and screened. Here: ${file?.data.counts ?? "not told"}.`,
    ],
    [
      "16b",
      "Studies that seemed to fit and were left out",
      "Yours; rows set aside stand with their reasons in part The data.",
    ],
    [
      "17",
      "Characteristics of each study",
      studies === undefined
        ? "Not told."
        : `Part Included studies: ${counted(studies.data.studies.length, "paper")}.`,
    ],
    ["18", "Bias within each study", "Yours."],
    ["19", "Results of each study", "tables/effects-….csv, and the figures of estimates."],
    [
      "20a",
      "Studies behind each synthesis",
      "Numbers of studies and effects stand with each answer.",
    ],
    ["20b", "Result of each synthesis", "Part Answers."],
    [
      "20c",
      "Causes of differences",
      "Parts Which variables matter and How the gain follows the dose.",
    ],
    ["20d", "Robustness", "Part Doubts; lines beside each average."],
    ["21", "Missing results", refused],
    ["22", "Certainty of each answer", "Yours; reasons in the brief."],
    ["23a", "Discussion: what it means", "Yours."],
    ["23b", "Limits of the evidence", "Yours; the brief says what nobody has tested."],
    ["23c", "Limits of the review", "Yours."],
    ["23d", "For practice and research", "Yours; cautions stand at the end."],
    ["24a–c", "Registration, protocol, changes", "Yours."],
    ["25", "Support", "Yours."],
    ["26", "Competing interests", "Yours."],
    [
      "27",
      "Data and code",
      `The file ${report.source.name}, results.json, and the program, which is open.`,
    ],
  ];
  const text = (key: string, label: string) => ({ key, label, align: "left" }) as const;
  return {
    id: "reporting-items",
    title: "Items of the PRISMA 2020 statement: what is filled in, what is yours",
    columns: [text("item", "Item"), text("topic", "About"), text("told", "Here")],
    rows: items.map(([item, topic, told]) => ({ item, topic, told })),
    notes: [
      "Numbers and topics after Page MJ et al. (2021) BMJ 372:n71, in our own words; the checklist itself is filled in by you.",
    ],
  };
};
