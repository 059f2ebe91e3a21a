import type { RandomStream } from "../numeric/random-stream.js";
import { demoReferenceDose } from "./true-change.js";
import type { DemoDose } from "./true-change.js";

/**
 * A dose and a length of programme drawn over the ranges published trials use: effort 30–100 % MVC, holds of 1–30 s
 * at most as long as the effort allows, 40–240 s of tension a session, 1–5 sessions a week, 4–14 weeks.
 */
export const drawDose = (stream: RandomStream): Readonly<{ dose: DemoDose; weeks: number }> => {
  const effortPercent = 30 + 5 * stream.integer(15);
  const longest = Math.max(4, 30 * (1.2 - effortPercent / 100));
  const holdSeconds = Math.exp(Math.log(longest) * stream.uniform());
  const lengths = ["short", "middle", "long"] as const;
  return {
    dose: {
      ...demoReferenceDose,
      effortPercent,
      holdSeconds,
      tensionTimeSeconds: 40 + 200 * stream.uniform(),
      sessionsPerWeek: 1 + stream.integer(5),
      muscleLength: lengths[stream.integer(3)] ?? "middle",
    },
    weeks: 4 + stream.integer(11),
  };
};
