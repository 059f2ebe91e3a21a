import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const axeFile = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const axeText = readFileSync(axeFile, "utf8");

type AxeResult = Readonly<{
  violations: readonly Readonly<{
    id: string;
    nodes: readonly Readonly<{ html: string; failureSummary?: string }>[];
  }>[];
}>;

/** What the accessibility checker finds on a page as it stands, a line each; none is expected. */
export const axeProblems = async (page: Page): Promise<readonly string[]> => {
  await page.evaluate(axeText);
  const { violations } = await page.evaluate<AxeResult>(
    `axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })`,
  );
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary ?? ""}`),
  );
};
