import type { DemoMuscle } from "./demo-study.js";

/** Muscle groups the invented trials train. */
export const demoMuscles = {
  kneeExtensors: {
    name: "knee extensors",
    convention: "full extension is 0",
    trainedAt: { short: 40, middle: 65, long: 90 },
    strongestAt: 70,
    torqueSpread: 55,
    torqueMean: 190,
  },
  plantarflexors: {
    name: "plantarflexors",
    convention: "ankle neutral is 0",
    trainedAt: { short: 20, middle: 5, long: -10 },
    strongestAt: -5,
    torqueSpread: 30,
    torqueMean: 125,
  },
  elbowFlexors: {
    name: "elbow flexors",
    convention: "full extension is 0",
    trainedAt: { short: 110, middle: 75, long: 35 },
    strongestAt: 80,
    torqueSpread: 60,
    torqueMean: 62,
  },
} as const satisfies Readonly<Record<string, DemoMuscle>>;
