/** What to do about a client's last test, by stated rules of which the first that holds is followed. */
import type { ClientChange } from "./client-change.js";

/** What a rule looks at. */
type Seen = Readonly<{
  call: ClientChange["occasions"][number]["call"];
  /** Days of the last test. */
  days: number;
  /** Chance that a person of the projection would have measured less; absent without a projection. */
  below?: number;
  /** Gain expected of one person by now, that of people who do not train taken off; absent without a projection. */
  expected?: number;
  /** Smallest change of one further test that would be called one. */
  detectable: number;
}>;

/** Share of people beyond whom a test is out of the projected range, at either end. */
const outside = 0.025;
const isBelow = ({ below = 0.5 }: Seen): boolean => below < outside;

/**
 * The rules in order. They are common practice and ours; no trial tested them.
 *
 * @source none: the steps are those of working up, the limits those of the projection
 */
export const clientRules = [
  {
    id: "less",
    advice: "ask",
    when: "The last test is lower than before training, beyond the error of the test.",
    what: "Do not progress. Look for the cause (how it was tested, illness, pain, missed sessions) and ask whoever is responsible for the person's care.",
    holds: ({ call }) => call === "less",
  },
  {
    id: "outside-once",
    advice: "repeat the test",
    when: "The last test, made on one day, is outside the range projected for one person.",
    what: "Repeat it within 3 days, made the same way; both days then count as one test.",
    holds: (seen) => seen.days === 1 && (isBelow(seen) || (seen.below ?? 0.5) > 1 - outside),
  },
  {
    id: "below",
    advice: "ask",
    when: "The last test, made on two days or more, is below the range projected for one person.",
    what: "Ask what differs from the plan (load, sessions missed, pain, how it is tested) before anything is changed.",
    holds: isBelow,
  },
  {
    id: "more",
    advice: "progress",
    when: "The last test is higher than before training, beyond the error of the test.",
    what: "Progress by one step: one thing a week, and torque–time a week up by at most 15%.",
    holds: ({ call }) => call === "more",
  },
  {
    id: "too-early",
    advice: "go on",
    when: "No change is told, and the gain expected by now is too small for one test to tell.",
    what: "Go on as planned.",
    holds: ({ expected, detectable }) => expected === undefined || expected < detectable,
  },
  {
    id: "not-seen",
    advice: "repeat the test",
    when: "No change is told, made on one day, though the gain expected by now is large enough to tell.",
    what: "Repeat it within 3 days, made the same way; both days then count as one test.",
    holds: ({ days }) => days === 1,
  },
  {
    id: "not-seen-twice",
    advice: "ask",
    when: "No change is told on two days or more, though the gain expected by now is large enough to tell.",
    what: "Ask what differs from the plan (load, sessions missed, pain, how it is tested) before anything is changed.",
    holds: () => true,
  },
] as const satisfies readonly Readonly<{
  id: string;
  advice: "go on" | "progress" | "repeat the test" | "ask";
  when: string;
  what: string;
  holds: (seen: Seen) => boolean;
}>[];

/** The first rule that holds. */
export const clientRule = (seen: Seen): (typeof clientRules)[number] =>
  clientRules.find(({ holds }) => holds(seen))!;
