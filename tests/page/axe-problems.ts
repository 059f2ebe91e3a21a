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

/**
 * What the accessibility checker finds on a page as it stands, a line each; none is expected.
 *
 * @param which  colours are the only thing that a change of light and dark can spoil
 */
export const axeProblems = async (
  page: Page,
  which: "everything" | "contrast" = "everything",
): Promise<readonly string[]> => {
  const rules =
    which === "contrast"
      ? ["color-contrast"]
      : ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  await page.evaluate(axeText);
  const { violations } = await page.evaluate<AxeResult>(
    `axe.run(document, { runOnly: ${JSON.stringify(rules)}, resultTypes: ["violations"] })`,
  );
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 160)} ${failureSummary ?? ""}`),
  );
};
