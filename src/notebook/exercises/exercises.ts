import type { Exercise } from "../exercise.js";
import { angleExercises } from "./angle-exercises.js";
import { doseExercises } from "./dose-exercises.js";
import { effectSizeExercises } from "./effect-size-exercises.js";
import { holdExercises } from "./hold-exercises.js";
import { judgingExercises } from "./judging-exercises.js";
import { ownFileExercises } from "./own-file-exercises.js";
import { poolingExercises } from "./pooling-exercises.js";
import { protocolExercises } from "./protocol-exercises.js";
import { readingExercises } from "./reading-exercises.js";

/** Every exercise of the notebooks, in their order. */
export const exercises: readonly Exercise[] = [
  ...readingExercises,
  ...effectSizeExercises,
  ...poolingExercises,
  ...doseExercises,
  ...angleExercises,
  ...holdExercises,
  ...protocolExercises,
  ...ownFileExercises,
  ...judgingExercises,
];
