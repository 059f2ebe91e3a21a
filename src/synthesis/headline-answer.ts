import { showsRobust } from "./inference-choices.js";
import { predictionRange } from "./inference.js";
import type { HeadlineResult, Inference, MultilevelResult } from "./synthesis-results.js";

/** The inference in front, in words. */
export const robustMethod = {
  "bias-reduced-satterthwaite":
    "Student t with Satterthwaite degrees of freedom, cluster-robust standard errors by study (bias-reduced)",
  simple:
    "as asked for: Student t with studies − coefficients degrees of freedom, cluster-robust standard errors by study (simple correction)",
} as const;

/**
 * A multilevel result with the inference that is shown first: the cluster-robust one where it exists.
 *
 * The model's own interval rests on having guessed the dependence inside studies; the robust one holds
 * when that guess is wrong, and its degrees of freedom fall to what so few studies can carry. It takes the
 * place of the model's own everywhere: average (or prediction at the mean of the moderators), coefficients,
 * joint tests. The range of a further study is widened to match:
 *
 *   estimate ± t(df_robust) · √(SE_robust² + Σ θ)
 *
 * Whoever asked for the model's own inference, or for another correction, gets it, and the story says so.
 * What rests on one study alone has no robust error: such an average keeps the model's, such a coefficient
 * or test is left out, and a note names it.
 *
 * @param result as fitMultilevel gives it
 * @returns the result with that inference in front, and the model's own under `modelBased`
 * @source Pustejovsky and Tipton (2022) Prevention Science 23:425–438 (robust after a working model)
 */
export const headlineAnswer = (result: MultilevelResult): HeadlineResult => {
  const { standardError, interval, degreesOfFreedom, p, predictionInterval } = result;
  const { coefficients, omnibus, termTests, robust, asked, story } = result;
  const modelBased: Inference = {
    ...{ standardError, interval, degreesOfFreedom, p, predictionInterval },
    ...{ coefficients, omnibus, termTests },
  };
  const shown = (inference: Partial<Inference>, intervalMethod: string): HeadlineResult => ({
    ...result,
    ...inference,
    modelBased,
    story: { ...story, intervalMethod },
  });
  if (!showsRobust(asked)) return shown({}, `as asked for: ${story.intervalMethod}`);
  if (robust === null) {
    return shown({}, `${story.intervalMethod}, since too few studies carry cluster-robust ones`);
  }
  const words = robustMethod[asked.robust];
  const terms = {
    coefficients: coefficients.length === 0 ? [] : robust.coefficients,
    omnibus: robust.omnibus,
    termTests: robust.termTests,
  };
  const { average } = robust;
  if (average === undefined) {
    return shown(
      terms,
      `${words}; the estimate itself rests in part on one study alone, so its interval is the model's (${story.intervalMethod})`,
    );
  }
  const spread = Object.values(result.varianceByLevel).reduce((sum, part) => sum + part, 0);
  return shown(
    {
      standardError: average.standardError,
      interval: average.interval,
      degreesOfFreedom: average.degreesOfFreedom,
      p: average.p,
      predictionInterval:
        predictionInterval === null
          ? null
          : predictionRange(average, spread, asked.predictionDegreesOfFreedom, story.confidence),
      ...terms,
    },
    words,
  );
};
