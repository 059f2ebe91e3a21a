/**
 * A statement as it is taught, in the small form that can be put to the test: who, which outcome, what is compared over
 * which doses, what is claimed and by how much. Long for a form: its fields, their readers and what each claim needs.
 */
import { axisWords, doseAxes, doseAxisNames, type DoseAxisName } from "../dose/dose-axes.js";
import { CallError, type Issue } from "../errors.js";
import { listed } from "../protocol/listed.js";
import { outcomeFamilies, outcomeFamilyNames } from "../records/outcome-families.js";
import { parseRowFilter } from "../records/row-filter.js";
import { namedOne, plainWord, readAs } from "./option.js";

/** Columns of a file of statements; only the first must be there. */
export const statementFields = [
  "statement",
  "population",
  "outcome",
  "compared",
  "from",
  "to",
  "equal",
  "where",
  "claim",
  "least",
  "most",
  "unit",
] as const;
export type StatementField = (typeof statementFields)[number];
export type StatementCells = Readonly<Partial<Record<StatementField, string>>>;

/** What a statement can be about besides the doses of a prescription. */
const comparisons = {
  training: ["before to after", "isometric training"],
  "against no exercise": ["training against no exercise", "no exercise"],
  "isometric or dynamic": ["isometric against dynamic", "dynamic"],
  "joint angle": ["joint angles", "test angle", "other angles"],
  people: ["women or men", "men or women", "sex", "age"],
} as const;
export type Compared = keyof typeof comparisons | DoseAxisName;
const comparedNames = [
  ...(Object.keys(comparisons) as (keyof typeof comparisons)[]),
  ...doseAxisNames,
] as const;
const otherComparedNames: Readonly<Partial<Record<Compared, readonly string[]>>> = {
  ...comparisons,
  ...Object.fromEntries(doseAxisNames.map((name) => [name, axisWords(name)])),
};

/** Every claim, what it says, and the fields it cannot do without. */
export const claims = {
  more: { says: "the outcome is higher after the second than after the first", needs: [] },
  less: { says: "the outcome is lower after the second than after the first", needs: [] },
  "no difference": { says: "they differ by less than counts, whichever way", needs: [] },
  amount: { says: "the average is at least, at most or between so much", needs: [] },
  range: {
    says: "the average and where a further study would fall lie between two amounts",
    needs: ["least", "most"],
  },
  threshold: {
    says: "below a dose there is no gain that counts, from it on there is",
    needs: ["from"],
  },
  enough: {
    says: "a dose gives a gain, and more of it adds less than counts",
    needs: ["from"],
  },
  optimum: { says: "the dose of the highest gain lies in a span", needs: ["from", "to"] },
  "time course": {
    says: "of the gain at a later week, a share is there at an earlier one",
    needs: ["from", "to"],
  },
  "joint angle": { says: "of the gain at the trained angle, a share is left elsewhere", needs: [] },
  endurance: { says: "how long a hold can be kept", needs: ["least", "most"] },
} as const satisfies Record<string, { says: string; needs: readonly StatementField[] }>;
export type Claim = keyof typeof claims;
export const claimNames = Object.keys(claims) as [Claim, ...Claim[]];

/** A statement's formal reading. */
export type StatementReading = Readonly<{
  /** A kind of outcome, or an outcome by its name. */
  outcome: string;
  compared: Compared;
  /** Doses, degrees or weeks; of a choice of two ways its place, 0 or 1. */
  from?: number;
  to?: number;
  equal?: "tension time" | "torque–time";
  /** Conditions on rows, those of the population among them. */
  where?: string;
  claim: Claim;
  /** As the outcome's own number goes: of blood pressure a fall is below 0. */
  least?: number;
  most?: number;
  /** In which the two stand: "%" or the outcome's unit. */
  unit: string;
}>;

/** What a field still needs to be told. */
export type AskedField = Readonly<{ field: StatementField; question: string }>;

/** A statement with its form as far as it is known. */
export type ReadStatement = Readonly<{
  /** Line of the file. */
  line: number;
  statement: string;
  cells: StatementCells;
  /** Fields that were read out of the statement's own words and wait to be confirmed. */
  proposed: readonly StatementField[];
  asked: readonly AskedField[];
  problems: readonly Issue[];
  /** Undefined while a field is asked for or cannot be read. */
  reading?: StatementReading;
}>;

/** Who was trained, in words that stand for conditions. */
const populations: Readonly<Record<string, string>> = {
  women: "female_percent=100",
  men: "female_percent=0",
  "young adults": "age_mean_years<35",
  "older adults": "age_mean_years>=60",
  untrained: "training_status=untrained",
  "untrained people": "training_status=untrained",
  "trained people": "training_status=resistance-trained",
  patients: "training_status=clinical",
};
const familyWords = Object.fromEntries(
  outcomeFamilyNames.map((name) => [name, outcomeFamilies[name].spellings]),
);

export const fieldQuestions: Readonly<Partial<Record<StatementField, string>>> = {
  statement: "What is the statement?",
  outcome: `Which outcome is it about: ${listed(outcomeFamilyNames)}, or one by its name?`,
  compared:
    "What is compared: training (before to after), against no exercise, isometric or dynamic, joint angle, or a dose such as hold length, intensity, sessions a week?",
  claim: `What is claimed: ${listed(claimNames)}?`,
  from: "From which dose, week or distance?",
  to: "Up to which dose, week or span?",
  least: "How much at least?",
  most: "How much at most?",
};

/** A cell that cannot be read. */
export class Unreadable extends Error {
  constructor(readonly issue: Issue) {
    super(issue.message);
  }
}

/** What stands in front of a reader of one field: a word among names, said of its place in the file. */
const readField = <Value>(
  { line, cells }: Readonly<{ line: number; cells: StatementCells }>,
  field: StatementField,
  read: (cell: string) => Value,
): Value | undefined => {
  const cell = cells[field]?.trim() ?? "";
  if (cell === "") return undefined;
  try {
    return readAs(field, () => read(cell));
  } catch (error) {
    if (!(error instanceof CallError)) throw error;
    throw new Unreadable({
      code:
        field === "from" || field === "to" || field === "least" || field === "most"
          ? "not-a-number"
          : "unknown-choice",
      severity: "error",
      line,
      column: field,
      value: cell,
      message: "the cell cannot be read",
      mend: error.message.replace(/^.*? requires /, "write ").replace(/, got .*?(?=; |$)/, ""),
    });
  }
};

const numberOf = (cell: string): number => {
  const value = Number(cell.replace(/\s*%$/, "").replace("\u2212", "-").replace(",", "."));
  if (Number.isFinite(value)) return value;
  throw new CallError({ code: "not-a-number", where: "it", needs: "a number", got: cell });
};

/** A dose as a number; of a choice of two ways, its place by a word that only one of them holds. */
const doseOfWords =
  (compared: Compared) =>
  (cell: string): number => {
    const levels = (doseAxisNames as readonly string[]).includes(compared)
      ? doseAxes[compared as DoseAxisName].levels
      : undefined;
    if (levels === undefined) return numberOf(cell);
    const found = levels.flatMap((level, place) =>
      plainWord(level).includes(plainWord(cell)) ? [place] : [],
    );
    if (found.length === 1) return found[0]!;
    throw new CallError({
      code: "unknown-choice",
      where: "it",
      needs: `${levels[0]} or ${levels[1]}`,
      got: cell,
    });
  };

const conditions = (cell: string): string => {
  parseRowFilter(cell);
  return cell;
};
const whoOf = (cell: string): string =>
  populations[cell.toLowerCase()] ??
  (/[=<>]| between /.test(cell) ? conditions(cell) : `condition=${cell}`);

/** Numbers in ascending order; a choice of two ways may be named either way round. */
const ascending = (
  line: number,
  cells: StatementCells,
  [low, high]: readonly [StatementField, StatementField],
  [from, to]: readonly [number | undefined, number | undefined],
): void => {
  if (from === undefined || to === undefined || from <= to) return;
  throw new Unreadable({
    code: "range-reversed",
    severity: "error",
    line,
    column: high,
    value: cells[high] ?? "",
    message: `the end lies before its beginning, ${cells[low] ?? ""}`,
    mend: `write the smaller number in ${low} and the larger in ${high}`,
  });
};

/** Numbers that a claim on this comparison cannot do without. */
const neededBy = (
  claim: Claim,
  compared: Compared,
  cells: StatementCells,
): readonly StatementField[] => {
  const isBlank = (field: StatementField): boolean => (cells[field] ?? "").trim() === "";
  const fields: StatementField[] = [...claims[claim].needs];
  if (claim === "joint angle" && compared === "joint angle") fields.push("from");
  if (claim === "endurance" && compared === "intensityPercent") fields.push("from");
  const either =
    claim === "amount" ||
    claim === "time course" ||
    (claim === "joint angle" && compared === "joint angle");
  return [
    ...fields.filter(isBlank),
    ...(either && isBlank("least") && isBlank("most") ? (["least"] as const) : []),
  ];
};

const isDose = (compared: Compared): compared is DoseAxisName =>
  (doseAxisNames as readonly string[]).includes(compared);

/** Whether a claim can be made of what is compared. */
const fits = (claim: Claim, compared: Compared): boolean => {
  const isNumber = isDose(compared) && doseAxes[compared].kind === "number";
  if (claim === "threshold" || claim === "enough" || claim === "optimum") return isNumber;
  if (claim === "time course") return compared === "weeks";
  if (claim === "joint angle") return compared === "joint angle" || compared === "muscleLength";
  if (claim === "endurance") return compared === "intensityPercent" || compared === "action";
  if (claim === "range") return compared === "training" || compared === "against no exercise";
  return compared !== "joint angle";
};

/**
 * A statement's formal reading, or the fields it still needs.
 *
 * @throws {Unreadable} with the place, the value and the mend
 * @source none: a reading
 */
export const readCells = (
  line: number,
  cells: StatementCells,
): Readonly<{ reading?: StatementReading; asked: readonly AskedField[] }> => {
  const at = { line, cells };
  const outcome = readField(at, "outcome", (cell) => {
    const own = outcomeFamilyNames.find((name) =>
      [name, ...familyWords[name]!].some((word) => plainWord(word) === plainWord(cell)),
    );
    return own ?? cell;
  });
  const compared = readField(at, "compared", (cell) =>
    namedOne(cell, comparedNames, otherComparedNames),
  );
  const claim = readField(at, "claim", (cell) =>
    namedOne(cell, claimNames, {
      amount: ["at least", "at most"],
      range: ["between"],
      "no difference": ["equivalent", "equal", "the same"],
    }),
  );
  const missing = (
    [
      ["outcome", outcome],
      ["compared", compared],
      ["claim", claim],
    ] as const
  ).flatMap(([field, value]) => (value === undefined ? [field] : []));
  const needed =
    claim === undefined || compared === undefined ? [] : neededBy(claim, compared, cells);
  const asked = [...missing, ...needed].map((field) => ({
    field,
    question: fieldQuestions[field]!,
  }));
  if (outcome === undefined || compared === undefined || claim === undefined) return { asked };
  if (!fits(claim, compared))
    throw new Unreadable({
      code: "unknown-choice",
      severity: "error",
      line,
      column: "claim",
      value: cells.claim ?? "",
      message: `${claim} cannot be claimed of ${cells.compared ?? ""}`,
      mend: `choose another claim (${claims[claim].says}), or what it is about`,
    });
  const dose = doseOfWords(compared);
  const [from, to] = [readField(at, "from", dose), readField(at, "to", dose)];
  const [least, most] = [readField(at, "least", numberOf), readField(at, "most", numberOf)];
  if (!isDose(compared) || doseAxes[compared].kind === "number")
    ascending(line, cells, ["from", "to"], [from, to]);
  ascending(line, cells, ["least", "most"], [least, most]);
  const equal = readField(at, "equal", (cell) =>
    namedOne(cell, ["tension time", "torque–time"] as const, {
      "tension time": ["tension"],
      "torque–time": ["torque time", "torque", "work"],
    }),
  );
  const where = [readField(at, "population", whoOf), readField(at, "where", conditions)]
    .filter((part) => part !== undefined)
    .join(", ");
  if (asked.length > 0) return { asked };
  return {
    asked,
    reading: {
      outcome,
      compared,
      ...(from === undefined ? {} : { from }),
      ...(to === undefined ? {} : { to }),
      ...(equal === undefined ? {} : { equal }),
      ...(where === "" ? {} : { where }),
      claim,
      ...(least === undefined ? {} : { least }),
      ...(most === undefined ? {} : { most }),
      unit: cells.unit?.trim() || "%",
    },
  };
};
