import type { DemoReporting } from "./demo-study.js";
import type { DemoFamily } from "./demo-truth.js";

/** The comparisons an invented trial can be built around. */
export type DemoDesignName =
  | "effort ladder"
  | "equal tension, different holds"
  | "holds in two limbs"
  | "short and long"
  | "three lengths"
  | "time course"
  | "frequency ladder"
  | "volume ladder"
  | "hold ladder"
  | "sustained and fast"
  | "isometric and dynamic"
  | "effort in two limbs"
  | "second paper"
  | "effort by hold"
  | "equal torque-time"
  | "clinical"
  | "single group";

/** One line of the plan: what the trial compares, what it measures and how its paper prints numbers. */
export type DemoPlanLine = Readonly<{
  design: DemoDesignName;
  families: readonly DemoFamily[];
  reporting: DemoReporting;
}>;

/** The invented papers in order, some thirty; longer registers go round again. */
export const demoPlan: readonly DemoPlanLine[] = [
  { design: "effort ladder", families: ["strength", "tendon"], reporting: "means" },
  {
    design: "equal tension, different holds",
    families: ["strength", "size"],
    reporting: "means and correlation",
  },
  { design: "holds in two limbs", families: ["strength", "size"], reporting: "percent change" },
  { design: "short and long", families: ["strength", "size"], reporting: "means" },
  { design: "time course", families: ["strength", "size"], reporting: "means" },
  { design: "frequency ladder", families: ["strength"], reporting: "standard errors" },
  { design: "sustained and fast", families: ["strength", "size", "tendon"], reporting: "means" },
  {
    design: "isometric and dynamic",
    families: ["strength", "size"],
    reporting: "change with spread",
  },
  { design: "effort in two limbs", families: ["strength"], reporting: "means" },
  { design: "second paper", families: ["strength", "size", "tendon"], reporting: "means" },
  { design: "three lengths", families: ["strength", "size"], reporting: "means" },
  {
    design: "effort by hold",
    families: ["strength", "size", "tendon"],
    reporting: "means and correlation",
  },
  { design: "volume ladder", families: ["strength", "size"], reporting: "percent change" },
  {
    design: "clinical",
    families: ["symptoms", "strength"],
    reporting: "medians with quartiles",
  },
  { design: "equal torque-time", families: ["strength", "size"], reporting: "t value" },
  {
    design: "hold ladder",
    families: ["strength", "size", "tendon"],
    reporting: "means and correlation",
  },
  { design: "single group", families: ["strength"], reporting: "no spread" },
  { design: "effort ladder", families: ["strength", "size"], reporting: "means" },
  {
    design: "equal tension, different holds",
    families: ["strength", "size", "tendon"],
    reporting: "standard errors",
  },
  { design: "time course", families: ["strength", "tendon"], reporting: "means" },
  { design: "short and long", families: ["strength"], reporting: "means" },
  { design: "second paper", families: ["strength", "size"], reporting: "means" },
  { design: "effort by hold", families: ["strength", "size"], reporting: "means and correlation" },
  { design: "frequency ladder", families: ["strength"], reporting: "p value" },
  { design: "volume ladder", families: ["strength", "size"], reporting: "change with interval" },
  {
    design: "holds in two limbs",
    families: ["strength", "size", "tendon"],
    reporting: "means and correlation",
  },
  { design: "three lengths", families: ["strength", "size"], reporting: "no spread" },
  { design: "isometric and dynamic", families: ["strength"], reporting: "F value" },
  { design: "clinical", families: ["symptoms", "strength"], reporting: "medians with range" },
  {
    design: "equal tension, different holds",
    families: ["strength", "size"],
    reporting: "ready effect",
  },
  { design: "time course", families: ["strength", "size"], reporting: "means and correlation" },
];
