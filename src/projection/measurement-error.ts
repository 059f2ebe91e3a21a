import type { ProjectionGoal } from "./goals.js";

/** Typical error of one measurement on the log scale (0.05 is about 5 %), and where it comes from. */
export type MeasurementError = Readonly<{ deviation: number; source: string }>;

/**
 * Published typical errors by goal. A change is the difference of two measurements, so its error has variance
 * 2·e². Tendon has none: no typical error of stiffness was read, so the file's own controls serve.
 *
 * @source abstracts and tables as named in each entry
 */
export const measurementErrors: Readonly<Partial<Record<ProjectionGoal, MeasurementError>>> = {
  "strength at the trained angle": {
    deviation: 0.05,
    source:
      "voluntary knee-extension torque varies by about 5 % at 70–90° (six-angle study, n = 20, abstract); standard errors of measurement of 3.1–7.4 % in Isokinetics and Exercise Science (ies00522, n = 40)",
  },
  "strength elsewhere": {
    deviation: 0.08,
    source:
      "voluntary knee-extension torque varies by about 8 % at 20° and 115° (six-angle study, n = 20, abstract); the error grows away from the middle of the range",
  },
  size: {
    deviation: 0.024,
    source:
      "ultrasound thickness of the rectus femoris varies by 2.4 % on one day and 2.3 % over two (PMC7378096, table); other devices and raters err more",
  },
  "rapid force": {
    deviation: 0.164,
    source:
      "standard error of measurement of the torque rise over 0–100 ms of 16.4 % (Isokinetics and Exercise Science, ies00522, n = 40)",
  },
};
