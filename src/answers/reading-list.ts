/**
 * Trials to read first: their full text would help decide what a file cannot tell. The same as in
 * `data/reading-list.csv`, which a test keeps equal; written out here, so that a page without a disk has them too.
 */
import { counted } from "../tables/number-format.js";

/** What an answer could not tell: of which kind of outcome, and which doses or questions; all where left out. */
export type Untold = Readonly<{ family?: string; topics?: readonly string[] }>;

/** Trial; what it would decide in words, by name, and of which kinds of outcome. */
export const readingList = [
  ["Balshaw 2016, J Appl Physiol 120:1364", "intent", "effortIntent", "strength"],
  ["Massey 2018, Front Physiol 9:1170", "intent, tendon", "effortIntent", "tendon"],
  ["Bohm 2014, J Exp Biol 217:4010", "hold length, rate, tendon", "holdSeconds", "tendon"],
  [
    "Arampatzis 2010, J Biomech 43:3073",
    "intensity × hold (1 s), tendon",
    "intensityPercent holdSeconds",
    "tendon",
  ],
  [
    "Schott 1995, Eur J Appl Physiol 71(4)",
    "hold length at equal torque–time",
    "holdSeconds equal-tension",
    "strength size",
  ],
  [
    "Noorkõiv 2014, Med Sci Sports Exerc 46:1525",
    "angle, length",
    "muscleLength trainingAngleDegrees joint-angle",
    "strength size",
  ],
  [
    "Alegre 2014, Eur J Appl Physiol 114:2437",
    "length",
    "muscleLength trainingAngleDegrees",
    "strength size",
  ],
  [
    "Thépaut-Mathieu 1988, J Appl Physiol 64:1500",
    "angle carry-over",
    "muscleLength trainingAngleDegrees joint-angle",
    "strength",
  ],
  [
    "Bandy & Hanten 1993 (quadriceps at 30, 60 and 90°, 107 women)",
    "angle carry-over",
    "muscleLength trainingAngleDegrees joint-angle",
    "strength",
  ],
  ["Devise 2022 (hangboard 100, 80, 60%)", "intensity in climbers", "intensityPercent", "strength"],
  [
    "Van den Steen 2018 (tongue, 60, 80, 100%)",
    "intensity, older adults",
    "intensityPercent",
    "strength",
  ],
  [
    "Young 1985, Pflügers Arch 405:384",
    "intensity × hold at equal torque–time",
    "intensityPercent holdSeconds equal-tension",
    "strength",
  ],
  [
    "Lum & Barbosa 2021, J Sci Sport Exerc 2:115 (rapid against sustained)",
    "intent",
    "effortIntent",
    "strength",
  ],
  [
    "Symons 2005, J Gerontol A 60:777",
    "older adults, contraction types",
    "isometric-or-dynamic",
    "strength",
  ],
  ["Graves 1990, Spine 15:504", "low frequency, trunk", "sessionsPerWeek", "strength"],
  ["Albracht & Arampatzis 2013, Eur J Appl Physiol 113:1605", "tendon, runners", "", "tendon"],
  [
    "Pearson 2020, Clin J Sport Med (24 × 10 s against 6 × 40 s)",
    "hold length, pain",
    "holdSeconds equal-tension",
    "symptoms",
  ],
  [
    "Radovanović 2022, Sports Med Open, table 3",
    "high load in tendinopathy",
    "intensityPercent",
    "tendon symptoms",
  ],
  [
    "Altan 2020, Front Sports Act Living 518148, its table of 20 trials",
    "weeks, intensity",
    "weeks intensityPercent",
    "strength",
  ],
] as const;

/** More are counted. */
const trialsNamed = 3;

/** The trials of the list that would help decide what could not be told, in a sentence; empty where there are none. */
export const toReadFirst = (untold: readonly Untold[]): readonly string[] => {
  const trials = readingList.filter(([, , decides, outcomes]) =>
    untold.some(
      ({ family, topics }) =>
        (family === undefined || outcomes.split(" ").includes(family)) &&
        (topics === undefined || topics.some((topic) => decides.split(" ").includes(topic))),
    ),
  );
  if (trials.length === 0) return [];
  const more = trials.length - trialsNamed;
  const named = trials.slice(0, trialsNamed).map(([trial, decides]) => `${trial} – ${decides}`);
  return [
    `To read first, for what cannot be told here: ${named.join("; ")}${more > 0 ? `; and ${counted(more, "more trial")} of data/reading-list.csv` : ""}.`,
  ];
};
