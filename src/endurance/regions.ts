import type { Joint } from "../protocol/prescription.js";

/** Regions that have published endurance curves; `general` pools them all. */
export const enduranceRegions = [
  "general",
  "ankle",
  "knee",
  "trunk",
  "shoulder",
  "elbow",
  "hand",
] as const;
export type EnduranceRegion = (typeof enduranceRegions)[number];

const isRegion = (joint: string): joint is EnduranceRegion =>
  (enduranceRegions as readonly string[]).includes(joint);

/**
 * The region whose curve serves a joint, and whether that is a fallback: hip, neck and wrist have no
 * curve of their own, and neither has a prescription that names no joint.
 */
export const regionOf = (
  joint: Joint | EnduranceRegion | undefined,
): Readonly<{ region: EnduranceRegion; fellBack: boolean }> =>
  joint !== undefined && isRegion(joint)
    ? { region: joint, fellBack: false }
    : { region: "general", fellBack: true };
