import type { ProjectData } from "../../../answers/project.js";
import { supportSentences } from "../../../tables/projection-support-table.js";
import type { Table } from "../../../tables/table.js";
import { TableView } from "../../parts/table-view.js";

/** How much evidence lies near a protocol, and what part of the answer is data. */
export const SupportBlock = ({
  support,
  nearest,
}: Readonly<{
  support: NonNullable<ProjectData["answer"]>["support"];
  nearest: Table | undefined;
}>) => {
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
      {nearest === undefined ? null : (
        <details>
          <summary>The nearest rows, with their sources</summary>
          <TableView table={nearest} />
        </details>
      )}
    </div>
  );
};
