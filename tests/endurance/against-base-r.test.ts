/**
 * Kind of evidence: independent. The model's equations stepped in base R by the classical fourth-order
 * Runge–Kutta rule (written in R below), against the exact solution here.
 */
import { expect, test } from "vitest";
import { fatigueParameters } from "../../src/endurance/fatigue-parameters.js";
import type { EnduranceRegion } from "../../src/endurance/regions.js";
import { sessionCourse } from "../../src/endurance/session-course.js";
import { sessionTimeline } from "../../src/protocol/session-timeline.js";
import { parsePrescription } from "../../src/protocol/written-form.js";
import { baseR } from "../base-r.js";

/**
 * Steps of 0.01 s in the first second of each part, where muscle is called up or let go at 10/s,
 * and of at most 0.1 s after it. The rule's own error per step is (10·0.01)⁵/120 ≈ 1e-7 of the quick
 * part, which reaches capacity only through the fatigue rate, below 0.02/s.
 */
const longestStepSeconds = 0.1;

/** Capacity after each hold; the first time capacity is below the load, to a step, follows at the end. */
const program = `
slopes <- function(state, load, fatigue, recovery) {
  active <- state[1]; ready <- state[2]; tired <- state[3]
  lacking <- load - active
  call <- if (active >= load) 10 * lacking
          else if (ready > lacking) 10 * lacking
          else 10 * ready
  c(call - fatigue * active, -call + recovery * tired, fatigue * active - recovery * tired)
}
session <- function(loads, lengths, fatigue, recovery, multiplier, longest) {
  state <- c(0, 1, 0); clock <- 0; failed <- -1; after <- c()
  for (part in seq_along(loads)) {
    load <- loads[part]
    r <- if (load == 0) recovery * multiplier else recovery
    early <- min(1, lengths[part]); late <- lengths[part] - early
    few <- ceiling(early / 0.01); many <- ceiling(late / longest)
    for (h in c(rep(early / few, few), rep(late / max(many, 1), many))) {
      k1 <- slopes(state, load, fatigue, r)
      k2 <- slopes(state + h / 2 * k1, load, fatigue, r)
      k3 <- slopes(state + h / 2 * k2, load, fatigue, r)
      k4 <- slopes(state + h * k3, load, fatigue, r)
      state <- state + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
      clock <- clock + h
      if (failed < 0 && load > 0 && 1 - state[3] < load) failed <- clock
    }
    if (load > 0) after <- c(after, 1 - state[3])
  }
  c(after, failed)
}
`;

const { numbers } = baseR(program);

const sessions: readonly (readonly [string, EnduranceRegion])[] = [
  ["4 × 10 s at 60%, rest 20 s", "knee"],
  ["3 × 30 s at 70%, rest 30 s", "knee"],
  ["10 × 3 s at 75%, rest 2 s", "general"],
  ["2 × (4 × 3 s) at 90%, rest 3 s, 60 s between sets", "shoulder"],
  ["2 × 45 s at 35%, rest 20 s", "hand"],
  ["5 × 5 s, maximal, rest 10 s", "elbow"],
];

test.each(sessions)("%s, %s: capacity after every hold to 1e-6", async (text, region) => {
  const timeline = sessionTimeline(parsePrescription(text));
  const p = fatigueParameters[region];
  const loads = timeline.map((part) => part.intensityPercent / 100).join(",");
  const lengths = timeline.map((part) => part.endSeconds - part.startSeconds).join(",");
  const stepped = await numbers(
    `session(c(${loads}), c(${lengths}), ${p.fatiguePerSecond}, ${p.recoveryPerSecond}, ${p.restMultiplier}, ${longestStepSeconds})`,
  );
  const course = sessionCourse(timeline, p);
  expect(stepped).toHaveLength(course.afterHoldsPercent.length + 1);
  course.afterHoldsPercent.forEach((left, hold) => {
    expect(Math.abs(left / 100 - (stepped[hold] ?? NaN)), `hold ${hold + 1}`).toBeLessThan(1e-6);
  });
  // R sees a failure at the end of the step it falls in.
  const failed = stepped.at(-1) ?? NaN;
  if (course.failsAt === undefined) expect(failed).toBe(-1);
  else {
    expect(failed - course.failsAt.seconds).toBeGreaterThan(-1e-6);
    expect(failed - course.failsAt.seconds).toBeLessThan(longestStepSeconds + 1e-6);
  }
});
