import { OneOfQuestions } from "../parts/one-of-questions.js";
import { CertaintyPart } from "./certainty-part.js";
import type { View } from "./view.js";

const questionWords = {
  certainty: "How sure is each finding?",
  "risk-of-bias": "What is left without studies in doubt?",
  sweep: "What if other choices were made?",
  influence: "Does an answer rest on one study?",
  "small-studies": "Do small studies show more?",
} as const;

/** How sure the answers are: what would move them, and what they rest on. */
export const sureView: View = {
  id: "sure",
  label: "How sure",
  needsFile: true,
  shows: "How sure each finding is, why, and whether it rests on one study or one choice.",
  Body: () => (
    <div class="sure">
      <OneOfQuestions
        name="sure-question"
        words={questionWords}
        title="Asking again"
        own={{ certainty: CertaintyPart }}
      />
    </div>
  ),
};
