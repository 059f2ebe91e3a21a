/** Which parts of a protocol a projection moves with, and which play no part, with the reason. */
import { listed } from "../protocol/listed.js";
import { grouped } from "../records/grouped.js";
import type { DroppedPredictor } from "./predictor-columns.js";
import type { ProjectionDesign } from "./projection-design.js";

/** What makes a projection one of a protocol: names of predictors. */
const ofProtocol: readonly string[] = ["effort", "tension time", "hold length", "frequency"];
/** Qualities of a protocol that move a number without making it the protocol's own. */
const qualities: readonly string[] = ["muscle length", "build-up"];

export type ToldParts = Readonly<{
  /** Labels of those the number moves with. */
  moved: readonly string[];
  /** Those that play no part, and why in short. */
  still: readonly DroppedPredictor[];
  stillWhy: string;
  /** False where neither intensity, hold, tension time nor frequency is in the model: the number is the file's average. */
  ofProtocol: boolean;
}>;

/**
 * Parts of a protocol that are in a model and those that are not.
 *
 * @source none: a rule of this project
 */
export const toldParts = ({
  predictors,
  dropped,
}: Pick<ProjectionDesign, "predictors" | "dropped">): ToldParts => {
  const isOwn = predictors.some(({ name }) => ofProtocol.includes(name));
  // The file's average is taken over all qualities, so that none of them moves it.
  const isPart = ({ name }: Readonly<{ name: string }>): boolean =>
    ofProtocol.includes(name) || (isOwn && qualities.includes(name));
  const still = dropped.filter(isPart);
  return {
    moved: predictors.filter(isPart).map(({ label }) => label),
    still,
    stillWhy: reasonsInShort(still),
    ofProtocol: isOwn,
  };
};

/** Why parts of a protocol play no part, each kind of reason once. */
const reasonsInShort = (still: readonly DroppedPredictor[]): string => {
  const kinds = grouped(still, ({ why }) => why);
  const labels = (list: readonly DroppedPredictor[]): string =>
    listed(list.map(({ label }) => label));
  const seldom = kinds.get("seldom coded") ?? [];
  const follow = kinds.get("follows from others") ?? [];
  return [
    ...(seldom.length === 0 ? [] : [`too few effects code ${labels(seldom)}`]),
    ...(kinds.get("all alike") ?? []).map(({ reason }) => reason),
    ...(follow.length === 0 ? [] : [`${labels(follow)} cannot be told apart from the rest`]),
  ].join("; ");
};
