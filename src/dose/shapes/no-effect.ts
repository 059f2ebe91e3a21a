import type { Shape } from "./shape.js";

/** No relation between dose and gain: the level alone. */
export const noEffect: Shape = {
  name: "none",
  label: "no relation",
  meaning: "the gain is the same at every dose",
  columns: () => 0,
  basis: () => [],
};
