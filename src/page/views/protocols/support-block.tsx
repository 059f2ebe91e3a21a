import type { Support } from "../../../projection/project-protocol.js";
import { nearestTable, supportSentences } from "../../../tables/projection-support-table.js";
import { TableView } from "../../parts/table-view.js";
import { titledFor } from "./titled-for.js";

/** How much evidence lies near a protocol, and what part of the answer is data. */
export const SupportBlock = ({
  support,
  letter,
}: Readonly<{ support: Support; letter: string }>) => {
  const [inside, ...sentences] = supportSentences(support);
  return (
    <div class="support">
      {support.extrapolates ? (
        <div class="extrapolates">
          <strong>Extrapolation</strong>
          <ul>
            {support.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </div>
      ) : (
        <p>{inside}</p>
      )}
      <p>{sentences.join(" ")}</p>
      <details>
        <summary>The nearest rows, with their sources</summary>
        <TableView table={titledFor(letter, nearestTable(support.nearest))} />
      </details>
    </div>
  );
};
