/** Typical error of one test on the log scale (0.05 is about 5 %), the people it was measured in, and where it comes from. */
export type TestError = Readonly<{ deviation: number; people?: number; source: string }>;

export type FamilyRecord = Readonly<{
  /** Whether more of the outcome is better where a row does not say. */
  higherIs: "better" | "worse";
  /** Difference that counts after one step of a variable, per cent of the ratio: ours, and open to change. */
  countsFromPercent: number;
  /** Whether it is a test of what a muscle can do, so that how the muscle worked in it matters. */
  hasTestMode: boolean;
  /** Whether a result belongs to the joint angle it was tested at, as a torque does and a volume does not. */
  testedAtAnAngle: boolean;
  /** Whether the direction of better goes without saying, as it does of strength. */
  directionIsPlain: boolean;
  /** Whether its outcomes are scores with a floor and a ceiling where a row does not say. */
  isScore: boolean;
  /** Whether it can grow many times over or vanish, so that a tenfold change is no slip of the unit. */
  canChangeManyfold: boolean;
  /** Other spellings of the family in a table, lower case. */
  spellings: readonly string[];
  /** Words of an outcome's name that tell the family; of several families the first whose words fit. */
  namedBy?: RegExp;
  /**
   * What people train for in this family: short names they type beside the full one, the gain on the log scale that
   * would surprise nobody (0.3 is a factor of about 1.35; ours), and the published typical error of a test. A change is
   * the difference of two tests, so its error has variance 2·e².
   */
  goals: readonly Readonly<{
    name: string;
    shortNames: readonly string[];
    usualGain: number;
    /** Absent where none was read, so that the file's own controls serve. */
    testError?: TestError;
  }>[];
}>;

/**
 * Kinds of outcome in the order in which they are told, each with everything that is known of it. A new one is one
 * record here.
 *
 * @source of test errors, the abstracts and tables named in each; amounts that count are ours
 */
export const outcomeFamilies = {
  strength: {
    higherIs: "better",
    countsFromPercent: 5,
    hasTestMode: true,
    testedAtAnAngle: true,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: false,
    spellings: [],
    goals: [
      {
        name: "strength at the trained angle",
        shortNames: ["strength", "trained angle"],
        usualGain: 0.3,
        testError: {
          deviation: 0.05,
          people: 20,
          source:
            "voluntary knee-extension torque varies by about 5% at 70–90° (six-angle study, n = 20, abstract); standard errors of measurement of 3.1–7.4% in Isokinetics and Exercise Science (ies00522, n = 40)",
        },
      },
      {
        name: "strength elsewhere",
        shortNames: ["elsewhere", "other angles"],
        usualGain: 0.3,
        testError: {
          deviation: 0.08,
          people: 20,
          source:
            "voluntary knee-extension torque varies by about 8% at 20° and 115° (six-angle study, n = 20, abstract); the error grows away from the middle of the range",
        },
      },
    ],
  },
  size: {
    higherIs: "better",
    countsFromPercent: 2,
    hasTestMode: false,
    testedAtAnAngle: false,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: false,
    spellings: ["hypertrophy", "muscle size"],
    namedBy: /\b(?:volume|cross.sectional area|thickness|circumference|girth|lean mass)\b/i,
    goals: [
      {
        name: "size",
        shortNames: ["hypertrophy"],
        usualGain: 0.15,
        testError: {
          deviation: 0.024,
          source:
            "ultrasound thickness of the rectus femoris varies by 2.4% on one day and 2.3% over two (PMC7378096, table); other devices and raters err more",
        },
      },
    ],
  },
  tendon: {
    higherIs: "better",
    countsFromPercent: 5,
    hasTestMode: false,
    testedAtAnAngle: false,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: false,
    spellings: [],
    namedBy: /\btendon/i,
    goals: [{ name: "tendon", shortNames: [], usualGain: 0.3 }],
  },
  "rapid force": {
    higherIs: "better",
    countsFromPercent: 5,
    hasTestMode: true,
    testedAtAnAngle: true,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: false,
    spellings: ["rate of torque development", "rate of force development"],
    goals: [
      {
        name: "rapid force",
        shortNames: ["rapid"],
        usualGain: 0.4,
        testError: {
          deviation: 0.164,
          people: 40,
          source:
            "standard error of measurement of the torque rise over 0–100 ms of 16.4% (Isokinetics and Exercise Science, ies00522, n = 40)",
        },
      },
    ],
  },
  endurance: {
    higherIs: "better",
    countsFromPercent: 10,
    hasTestMode: true,
    testedAtAnAngle: true,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: true,
    spellings: [],
    goals: [],
  },
  symptoms: {
    higherIs: "worse",
    countsFromPercent: 10,
    hasTestMode: false,
    testedAtAnAngle: false,
    directionIsPlain: false,
    isScore: true,
    canChangeManyfold: true,
    spellings: ["pain", "symptom"],
    namedBy: /\b(?:pain|soreness)\b/i,
    goals: [],
  },
  "blood pressure": {
    higherIs: "worse",
    countsFromPercent: 2,
    hasTestMode: false,
    testedAtAnAngle: false,
    directionIsPlain: true,
    isScore: false,
    canChangeManyfold: false,
    spellings: ["resting blood pressure", "arterial pressure"],
    namedBy: /\b(?:systolic|diastolic|(?:blood|arterial) pressure)\b/i,
    goals: [],
  },
  other: {
    higherIs: "better",
    countsFromPercent: 5,
    hasTestMode: true,
    testedAtAnAngle: false,
    directionIsPlain: false,
    isScore: false,
    canChangeManyfold: false,
    spellings: [],
    goals: [],
  },
} as const satisfies Readonly<Record<string, FamilyRecord>>;

export type OutcomeFamily = keyof typeof outcomeFamilies;

/** In the order in which they are told. */
export const outcomeFamilyNames = Object.keys(outcomeFamilies) as readonly OutcomeFamily[];

/** How a family is called that a row does not code. */
export const familyNotCoded = "family not coded";

/** What is known of a family; of one that is not coded, what is known of other outcomes. */
export const familyRecord = (family: string | undefined): FamilyRecord =>
  Object.hasOwn(outcomeFamilies, family ?? "")
    ? outcomeFamilies[family as OutcomeFamily]
    : outcomeFamilies.other;

type Coded = Readonly<{ outcomeFamily?: OutcomeFamily | undefined }>;

/** Whether more of an outcome is better; by its family where the row does not say. */
export const higherIs = (
  row: Coded & Readonly<{ higherIs?: "better" | "worse" | undefined }>,
): "better" | "worse" => row.higherIs ?? familyRecord(row.outcomeFamily).higherIs;

/** The family that an outcome's name tells: a tendon's thickness is of the tendon; undefined where it tells none. */
export const familyNamed = (outcome: string): OutcomeFamily | undefined =>
  (["tendon", ...outcomeFamilyNames] as const).find((family) =>
    familyRecord(family).namedBy?.test(outcome),
  );

/** The family of a row, or that it is not coded. */
export const familyOf = (row: Coded): string => row.outcomeFamily ?? familyNotCoded;

/** Place of a family in the order in which they are told; one that is not coded comes last. */
export const placeOfFamily = (family: string): number => {
  const place = (outcomeFamilyNames as readonly string[]).indexOf(family);
  return place === -1 ? outcomeFamilyNames.length : place;
};

/** The families of some rows, each once, in the order in which they are told. */
export const familiesOf = (rows: readonly Coded[]): readonly string[] =>
  [...new Set(rows.map(familyOf))].sort((a, b) => placeOfFamily(a) - placeOfFamily(b));
