import type { Contrast } from "../../effects/effect.js";
import { frontierFigure } from "../../figures/frontier-figure.js";
import type { Figure } from "../../figures/figure.js";
import {
  exploreProtocols,
  type ExploreLimits,
  type ExploreOptions,
} from "../../projection/explore-protocols.js";
import type { ProjectionGoal } from "../../projection/goals.js";
import {
  frontierSentences,
  frontierStepsTable,
  frontierTable,
} from "../../tables/frontier-table.js";
import type { Table } from "../../tables/table.js";
import type { Job } from "./bench.js";
import { preparedOn } from "./prepare-projection-job.js";

export type ExploreWish = Readonly<{
  goal: ProjectionGoal;
  contrast: Contrast;
  limits: ExploreLimits;
  keep: NonNullable<ExploreOptions["keep"]>;
}>;

/** The frontier as it is shown, or why there is none. */
export type ExploreShown =
  | Readonly<{ kind: "refusal"; reason: string }>
  | Readonly<{
      kind: "frontier";
      sentences: readonly string[];
      tables: readonly Table[];
      figure: Figure;
      /** Protocols of the frontier, written, in its order. */
      written: readonly string[];
    }>;

/** Searches the protocols within some limits for those that give the most for their time. */
export const exploreJob: Job<ExploreWish, ExploreShown> = (bench, wish, tell) => {
  const { goal, contrast, limits, keep } = wish;
  const { prepared } = preparedOn(bench, { goal, contrast }, tell);
  tell("trying protocols");
  const frontier = exploreProtocols(prepared, limits, { keep });
  if (frontier.kind === "refusal" || prepared.kind === "refusal")
    return {
      kind: "refusal",
      reason: frontier.kind === "refusal" ? frontier.reason : "the table says too little",
    };
  return {
    kind: "frontier",
    sentences: frontierSentences(frontier),
    tables: [
      frontierTable(frontier, prepared),
      ...(frontier.points.length < 2 ? [] : [frontierStepsTable(frontier)]),
    ],
    figure: frontierFigure({ frontier, prepared }),
    written: frontier.points.map(({ written }) => written),
  };
};
