import type { AxisPromise } from "../dose/telling-axes.js";
import { shownDose } from "./shown-dose.js";
import type { Table } from "./table.js";

/** One family's axes, and which of them are drawn. */
export type AxesTold = Readonly<{
  family: string;
  axes: readonly (AxisPromise & Readonly<{ drawn: boolean }>)[];
}>;

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

const verdict = ({ evidence, missing, drawn }: AxesTold["axes"][number]): string => {
  if (evidence === "none") return `no answer: ${missing ?? ""}`;
  const where =
    evidence === "within studies"
      ? "told by arms of the same study"
      : `told by differences between studies only: ${missing ?? ""}`;
  return drawn ? `${where}; drawn above` : where;
};

/** What the file can tell about each dose, family by family, with what is missing where it cannot. */
export const axesToldTable = (families: readonly AxesTold[]): Table => ({
  id: "doses-told",
  title: "What the file can tell about each dose",
  columns: [
    { key: "family", label: "Outcome", align: "left" },
    { key: "axis", label: "Dose", align: "left" },
    { key: "studies", label: "Studies", align: "right" },
    { key: "comparing", label: "Of them comparing doses", align: "right" },
    { key: "range", label: "Doses met", align: "left" },
    { key: "verdict", label: "What there is", align: "left" },
  ],
  rows: families.flatMap(({ family, axes }) =>
    axes.map((promise) => {
      const { axis, support } = promise;
      const [low, high] = [support.lowest, support.highest];
      return {
        family: capital(family),
        axis: axis.label,
        studies: String(support.studies),
        comparing: String(support.studiesWithin),
        range:
          support.effects === 0
            ? "none"
            : low === high
              ? shownDose(low, axis)
              : `${shownDose(low, axis.kind === "number" ? { ...axis, unit: "" } : axis)} to ${shownDose(high, axis)}`,
        verdict: verdict(promise),
      };
    }),
  ),
  notes: [
    "curves are drawn for the doses that most studies compare inside themselves; the choice is made before anything is fitted",
  ],
});
