import type { AxisPromise } from "../dose/telling-axes.js";
import { shownDose } from "./shown-dose.js";
import type { Table } from "./table.js";

const verdict = ({ evidence, missing }: AxisPromise): string =>
  evidence === "none"
    ? `no answer: ${missing ?? ""}`
    : evidence === "within studies"
      ? "told by arms of the same study"
      : `told by differences between studies only: ${missing ?? ""}`;

/** What the file can tell about each dose, with what is missing where it cannot. */
export const axesToldTable = (axes: readonly AxisPromise[]): Table => ({
  id: "doses-told",
  title: "What the file can tell about each dose",
  columns: [
    { key: "axis", label: "Dose", align: "left" },
    { key: "studies", label: "Studies", align: "right" },
    { key: "comparing", label: "Of them comparing doses", align: "right" },
    { key: "range", label: "Doses met", align: "left" },
    { key: "verdict", label: "What there is", align: "left" },
  ],
  rows: axes.map((promise) => {
    const { axis, support } = promise;
    const [low, high] = [support.lowest, support.highest];
    return {
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
  notes: [
    "doses that most studies compare inside themselves come first; this is judged before anything is fitted",
  ],
});
