import { expect, test } from "vitest";
import { heterogeneitySentences } from "../../src/tables/heterogeneity-sentences.js";
import { samplePair, samplePooled } from "./sample-results.js";

const scale = "log-ratio-of-means" as const;

test("prediction interval first, then τ², I² and Q, each with its numbers", () => {
  const sentences = heterogeneitySentences(samplePooled, { scale });
  expect(sentences[0]).toBe(
    "The true effect of a further study of this kind is expected between \u22122.0 and 23.5% (95% range of a further study).",
  );
  expect(sentences[1]).toContain("τ²) is 0.0123 (95% interval 0.0010 to 0.0500)");
  expect(sentences[2]).toContain("I² is 67% (95% interval 30 to 85%)");
  expect(sentences[3]).toBe("Q is 27.31 on 9 degrees of freedom (p = 0.001).");
  expect(sentences).toHaveLength(4);
});

test("few studies: fewer claims and a warning", () => {
  const sentences = heterogeneitySentences(samplePair, { scale });
  expect(sentences).toEqual([
    "With 2 studies no range of a further study can be given.",
    "The variance between studies cannot be estimated from these effects.",
    "With 2 studies how far studies differ can hardly be estimated; a small τ² here is no sign that they agree.",
  ]);
});

test("no verdict word is put on the share", () => {
  const text = heterogeneitySentences(samplePooled, { scale }).join(" ");
  expect(text).not.toMatch(/\b(low|moderate|substantial|considerable|high)\b/);
});
