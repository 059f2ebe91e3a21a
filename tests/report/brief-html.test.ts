import { expect, test } from "vitest";
import { ask } from "../../src/answers/ask.js";
import { briefHtml } from "../../src/report/brief-html.js";
import { evidenceOf } from "./demo-report.js";

test("goals stand by kind of outcome, isometric tests first; what has no room is named with the rule", async () => {
  const evidence = evidenceOf("published-outcomes.csv");
  const answer = await ask("brief", {}, evidence);
  const part = { id: "brief-told", title: "Brief", lead: [] };
  const html = briefHtml(
    {
      source: evidence.source,
      parts: [{ ...part, answers: [{ id: "brief-answer", title: "Brief", answer }] }],
    },
    () => "",
  );
  const titles = [...html.matchAll(/<div class="goal"><h3>([^<]*)<\/h3>/g)].map(([, name]) => name);
  expect(titles).toEqual([
    ...["Strength", "Size", "Tendon", "Rapid force", "Blood pressure"],
    ...["Also in the file", "Nobody has tested"],
  ]);
  // Of an outcome that falls, an interval wholly on the good side lies below no change as it is printed.
  const [, pressure = ""] = /<h3>Blood pressure<\/h3>(.*?)<div class="goal">/s.exec(html) ?? [];
  expect(pressure).toMatch(/falls by .* down\b/s);
  expect(pressure).toContain("The whole interval is an improvement.");
  expect(html).toContain(">Strength, tested moving at fixed speed; endurance (no average)");
  expect(html).toContain(
    "Goals stand in the order of the kinds of outcome, isometric tests first and other ways of testing after them.</p>",
  );
});
