/** What is wrong with the claim that a lesson quotes, by the number of the lesson. */
export const flaws: Readonly<Record<number, string>> = {
  3: "The interval is about the average of such trials; a further trial lies anywhere in the wider range, which reaches below nothing. And five effects of four studies hardly tell that range.",
  4: "No study trained its own arms for different numbers of weeks, so short and long trials differ in people, tests and doses as well. That says nothing of the same people going on.",
  5: "The average mixes the trained angle with angles far from it. At the angle that was trained the gain is much larger; it is not carried far.",
  6: "The holds after the first begin before recovery is complete, so one fresh hold says little of six. And the centre is a typical person: those who tire early do not finish.",
  7: "The range of the average is about the mean of many groups. One person may gain much more or nothing, and the range of a single person says so.",
  8: "The two averages come from different studies and ask different things: before to after holds whatever else changed, such as learning the test; against no exercise that is taken off. A control group takes nothing away.",
  9: "Before to after holds more than the training, and the interval is about an average of groups: it leaves out how far studies differ, and it says nothing of everybody.",
  10: "No trial refutes what no trial looked at: that is not testable, or undecided, and neither is support.",
};
