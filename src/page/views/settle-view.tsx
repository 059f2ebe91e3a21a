import { useChoice } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { OptionsKnown, OwnOptions, useOwn, useQuestion, WhatIsAsked } from "../parts/asked.js";
import type { View } from "./view.js";

const Settled = () => {
  // A statement is named by its number among those of the place Statements.
  const [given] = useChoice("statements-statements", "");
  const own = useOwn("settle");
  const answer = useQuestion(
    "settle",
    { ...own, ...(given.trim() === "" ? {} : { statements: given }) },
    "Simulating further trials",
  );
  return (
    <ComingAnswer answer={answer}>
      <p class="quiet">
        What trial would settle what this file leaves open: how many, how large, in which design,
        and which protocols nobody has studied.
      </p>
      <WhatIsAsked>
        <OwnOptions id="settle" except={["statements"]} />
      </WhatIsAsked>
    </ComingAnswer>
  );
};

const SettleBody = () => (
  <OptionsKnown id="settle">
    <Settled />
  </OptionsKnown>
);

/** What further trials would decide, and a map of what is not known. */
export const settleView: View = {
  id: "settle",
  label: "What is open",
  needsFile: true,
  shows: "What further trials would decide, and which protocols nobody has studied.",
  Body: SettleBody,
};
