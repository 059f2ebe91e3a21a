import { collinearity } from "../dose/collinearity.js";
import { doseResponse, type DoseCurve } from "../dose/dose-response.js";
import { tellingAxes, type AxisPromise } from "../dose/telling-axes.js";
import { collinearityFigure } from "../figures/collinearity-figure.js";
import { doseCurveFigure } from "../figures/dose-curve-figure.js";
import type { Figure } from "../figures/figure.js";
import { axesToldTable } from "../tables/axes-told-table.js";
import { doseAnswer, doseReadOffsTable, doseSlopesTable } from "../tables/dose-table.js";
import type { Table } from "../tables/table.js";
import type { FamilySet } from "./old-sections.js";
import type { SectionMaker } from "./old-sections.js";

/** Families whose curves are drawn, and how many curves of each at most. */
const curvesOf: Readonly<Record<string, number>> = { strength: 2, size: 2, tendon: 1 };

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Tables of a curve, under names that hold the family. */
const tablesOf = (family: string, answer: DoseCurve): readonly Table[] =>
  [doseSlopesTable(answer), doseReadOffsTable(answer)].map((table) => ({
    ...table,
    id: `${family.replaceAll(" ", "-")}-${table.id}`,
    title: `${capital(family)} and ${answer.axis.label}: ${table.title.charAt(0).toLowerCase()}${table.title.slice(1)}`,
  }));

/** The axes drawn: those compared inside studies, or the first one told between studies where there is none. */
const drawnAxes = (axes: readonly AxisPromise[], most: number): readonly AxisPromise[] => {
  const inside = axes.filter(({ evidence }) => evidence === "within studies").slice(0, most);
  return inside.length > 0
    ? inside
    : axes.filter(({ evidence }) => evidence === "between studies only").slice(0, 1);
};

/** Which doses move together, for the family with the most effects. */
const together = (families: readonly FamilySet[]): readonly Figure[] => {
  const [most] = [...families].sort((a, b) => b.set.effects.length - a.set.effects.length);
  if (most === undefined) return [];
  const known = tellingAxes(most.set)
    .filter(({ axis, support }) => axis.kind === "number" && support.doses.length > 1)
    .map(({ axis }) => axis.name);
  if (known.length < 2) return [];
  return [collinearityFigure({ family: most.family, pairs: collinearity(most.set, known) })];
};

/** How the gain follows the doses that the file can tell most about, and what it cannot tell. */
export const doseSection: SectionMaker = (analysis, _wishes, progress) => {
  const families = analysis.answers.filter(
    ({ family, contrast, set }) =>
      curvesOf[family] !== undefined && contrast === "change-within-arm" && set.effects.length > 1,
  );
  if (families.length === 0) return undefined;
  const told = families.map(({ family, set }) => {
    const axes = tellingAxes(set);
    const drawn = drawnAxes(axes, curvesOf[family]!);
    const curves = drawn.flatMap((promise) => {
      progress(`dose-response: ${family} on ${promise.axis.label}`);
      const answer = doseResponse(set, promise.axis.name, { confidence: analysis.confidence });
      return answer.kind === "told" ? [answer] : [];
    });
    return {
      family,
      curves,
      axes,
    };
  });
  const curves = told.flatMap(({ family, curves: own }) =>
    own.map((answer) => ({ family, answer })),
  );
  return {
    id: "dose-response",
    title: "How the gain follows the dose",
    sentences: [
      curves.length === 0
        ? "No dose of this file can be set against the gain; the table says what is missing for each."
        : "Curves are drawn for the doses that the most studies compare between their own arms; doses that only tell studies apart come after them, because such studies differ in much else. The table at the end says what there is for every dose.",
      ...curves.map(
        ({ family, answer }) =>
          `${capital(family)} and ${answer.axis.label}: ${doseAnswer(answer)}`,
      ),
    ],
    figures: [
      ...curves.map(({ family, answer }) => doseCurveFigure({ family, answer })),
      ...together(families),
    ],
    tables: [
      ...curves.flatMap(({ family, answer }) => tablesOf(family, answer)),
      ...told.map(({ family, axes }) => ({
        ...axesToldTable(axes),
        id: `doses-told-${family.replaceAll(" ", "-")}`,
        title: `${capital(family)}: what the file can tell about each dose`,
      })),
    ],
  };
};
