/** Doubts the models of this room share, each as a note. */
import type { Note } from "../errors.js";
import type { SynthesisEffect } from "./synthesis-input.js";

/** Below this many studies a result is thin. */
export const fewStudies = 5;
/** A study with more of the weight than this carries the result. */
export const dominantWeightPercent = 50;

/**
 * A note when few studies stand behind the result.
 * @source none: a threshold stated in the note
 */
export const fewStudiesNote = (studies: number): readonly Note[] => {
  if (studies >= fewStudies) return [];
  const count = studies === 1 ? "only one study" : `only ${studies} studies`;
  return [
    {
      code: "few-studies",
      message: `${count}: the spread between studies is hardly known, so read the interval as a rough one`,
    },
  ];
};

/**
 * A note when one study holds more than half of the weight.
 * @param weightsPercent in the order of the effects
 * @source none: a threshold stated in the note
 */
export const dominantStudyNote = (
  effects: readonly SynthesisEffect[],
  weightsPercent: readonly number[],
): readonly Note[] => {
  const byStudy = new Map<string, number>();
  effects.forEach((effect, index) => {
    byStudy.set(effect.study, (byStudy.get(effect.study) ?? 0) + weightsPercent[index]!);
  });
  if (byStudy.size < 2) return [];
  for (const [study, weight] of byStudy) {
    if (weight > dominantWeightPercent) {
      return [
        {
          code: "one-study-dominates",
          message: `study ${study} carries ${weight.toFixed(0)} % of the weight`,
          study,
        },
      ];
    }
  }
  return [];
};

/**
 * Notes on how far a prediction interval can be trusted.
 * @source IntHout, Ioannidis, Rovers and Goeman (2016) BMJ Open 6:e010247 (few studies)
 */
export const predictionNotes = (studies: number): readonly Note[] => {
  if (studies < 5) {
    return [
      {
        code: "prediction-indicative",
        message: `the prediction interval rests on ${studies} studies and is indicative only`,
      },
    ];
  }
  if (studies < 10) {
    return [
      {
        code: "prediction-unstable",
        message: `the prediction interval rests on fewer than ten studies (${studies}) and is unstable`,
      },
    ];
  }
  return [];
};
