import { useEffect, useState } from "preact/hooks";
import { whatWouldFit } from "../../../endurance/what-would-fit.js";
import { CallError } from "../../../errors.js";
import type { Prescription } from "../../../protocol/prescription.js";
import { holdFitTable } from "../../../tables/hold-table.js";
import type { Table } from "../../../tables/table.js";
import { TableView } from "../../parts/table-view.js";
import { titledFor } from "./titled-for.js";

/** The search takes longer than a frame, so it waits until the hand rests. */
const restMilliseconds = 200;

const fitOf = (p: Prescription): Table | string => {
  try {
    const comfortable = whatWouldFit(p, { keep: "comfortable" });
    const near = whatWouldFit(p, { keep: "near the limit" });
    return holdFitTable(p, comfortable, near);
  } catch (error) {
    if (error instanceof CallError) return error.message;
    throw error;
  }
};

/** What would make a session fit, worked out when it is opened. */
export const FitPanel = ({ p, letter }: Readonly<{ p: Prescription; letter: string }>) => {
  const [open, setOpen] = useState(false);
  const [fit, setFit] = useState<Readonly<{ of: string; answer: Table | string }>>();
  const key = JSON.stringify(p);
  useEffect(() => {
    if (!open) return undefined;
    const timer = setTimeout(() => setFit({ of: key, answer: fitOf(p) }), restMilliseconds);
    return () => clearTimeout(timer);
  }, [open, key]);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>What would make it fit</summary>
      {fit === undefined ? (
        <p class="quiet">Working it out …</p>
      ) : typeof fit.answer === "string" ? (
        <p>{fit.answer}</p>
      ) : (
        <TableView table={titledFor(letter, fit.answer)} />
      )}
    </details>
  );
};
