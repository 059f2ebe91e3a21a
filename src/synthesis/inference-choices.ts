/** What may be asked of the inference about a pooled answer. */

/** The interval of a multilevel answer that is shown first. */
export const multilevelIntervals = ["cluster-robust", "student-t", "normal"] as const;
/** How cluster-robust errors are corrected for few clusters. */
export const robustCorrections = ["bias-reduced-satterthwaite", "simple", "none"] as const;
/** Degrees of freedom of the range of a further study: those of the average it belongs to, or one fewer. */
export const predictionFreedoms = ["full", "one-fewer"] as const;
export type PredictionFreedom = (typeof predictionFreedoms)[number];

/** The choices a multilevel result was made with. */
export type AskedInference = Readonly<{
  interval: (typeof multilevelIntervals)[number];
  robust: (typeof robustCorrections)[number];
  predictionDegreesOfFreedom: PredictionFreedom;
}>;

/** Whether the robust inference is the one to be shown, or something else was asked for. */
export const showsRobust = <Asked extends AskedInference>(
  asked: Asked,
): asked is Asked & Readonly<{ robust: Exclude<AskedInference["robust"], "none"> }> =>
  asked.interval === "cluster-robust" && asked.robust !== "none";
