/** Every slide that comes with Holdbook, in the order of the course. A new slide is one line here. */
import {
  doseSlide,
  equalTensionSlide,
  jointAngleSlide,
  weeksSlide,
  withinBetweenSlide,
} from "./dose-slides.js";
import {
  averageSlide,
  byHandSlide,
  cautionsSlide,
  sourcesSlide,
  statementsSlide,
  studiedSlide,
  sureSlide,
  unknownSlide,
} from "./evidence-slides.js";
import { compareSlide, heldSlide, holdSlide, rampSlide } from "./session-slides.js";
import type { SlideMaker } from "./slide.js";

export const slideTopics: Readonly<Record<string, SlideMaker>> = {
  hold: holdSlide,
  studied: studiedSlide,
  "by-hand": byHandSlide,
  average: averageSlide,
  "within-between": withinBetweenSlide,
  intensity: doseSlide("intensityPercent"),
  "hold-length": doseSlide("holdSeconds"),
  "equal-tension": equalTensionSlide,
  "joint-angle": jointAngleSlide,
  weeks: weeksSlide,
  held: heldSlide,
  compare: compareSlide,
  "work-up": rampSlide,
  statements: statementsSlide,
  sure: sureSlide,
  unknown: unknownSlide,
  cautions: cautionsSlide,
  sources: sourcesSlide,
};
