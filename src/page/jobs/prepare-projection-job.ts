import type { Contrast, Effect } from "../../effects/effect.js";
import { effectsFromRows } from "../../effects/effects-from-rows.js";
import { effectsForGoal, type ProjectionGoal } from "../../projection/goals.js";
import {
  prepareProjection,
  type PreparedProjection,
  type ReadyProjection,
  type RefusedProjection,
} from "../../projection/prepare-projection.js";
import { projectionDesign } from "../../projection/projection-design.js";
import { openFile, type Bench, type BenchFile, type Job } from "./bench.js";

/** What a projection is made for. */
export type ProjectionWish = Readonly<{ goal: ProjectionGoal; contrast: Contrast }>;

/** A prepared projection without its functions, which cannot cross from the worker. */
export type SentProjection =
  | RefusedProjection
  | Readonly<{
      kind: "ready";
      ready: Omit<ReadyProjection, "design">;
      goalEffects: readonly Effect[];
    }>;

type Made = Readonly<{ prepared: PreparedProjection; goalEffects: readonly Effect[] }>;

const madeFor = new WeakMap<BenchFile, Map<string, Made>>();

/** The open table made ready for a goal; made once for each goal and contrast. */
export const preparedOn = (
  bench: Bench,
  { goal, contrast }: ProjectionWish,
  tell: (line: string) => void,
): Made => {
  const file = openFile(bench);
  const made = madeFor.get(file) ?? new Map<string, Made>();
  madeFor.set(file, made);
  const key = `${goal}\u0000${contrast}`;
  const known = made.get(key);
  if (known !== undefined) return known;
  tell("effects");
  const { rows } = file.records;
  const set = effectsFromRows(rows, { scale: "log-ratio-of-means", contrast });
  tell("learning what the trials say of this goal; this takes some seconds, once");
  const fresh = {
    prepared: prepareProjection(set, { goal, rows }),
    goalEffects: effectsForGoal(set, goal).effects,
  };
  made.set(key, fresh);
  return fresh;
};

/** Makes the open table ready for projections, for use on the other side. */
export const prepareProjectionJob: Job<ProjectionWish, SentProjection> = (bench, wish, tell) => {
  const { prepared, goalEffects } = preparedOn(bench, wish, tell);
  if (prepared.kind === "refusal") return prepared;
  const { design: _made, ...ready } = prepared;
  return { kind: "ready", ready, goalEffects };
};

/** The prepared projection as it was made: its design, which is quick to make, is made again from the same effects. */
export const receivedProjection = (sent: SentProjection): PreparedProjection => {
  if (sent.kind === "refusal") return sent;
  const { ready, goalEffects } = sent;
  return { ...ready, design: projectionDesign(goalEffects, ready.goal, ready.priors) };
};
