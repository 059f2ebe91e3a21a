import type { ProjectData } from "../../../answers/project.js";
import { supportSentences } from "../../../tables/projection-support-table.js";
import type { Table } from "../../../tables/table.js";
import { TableView } from "../../parts/table-view.js";

/** How much evidence lies near a protocol, what moved its number, and how far that rests on assumptions. */
export const SupportBlock = ({
  projection,
  nearest,
}: Readonly<{
  projection: NonNullable<ProjectData["answer"]>;
  nearest: Table | undefined;
}>) => {
  const { support, parts } = projection;
  const sentences = supportSentences(projection);
  return (
    <div class="support">
      {parts.ofProtocol && support.extrapolates ? (
        <div class="extrapolates">
          <strong>Extrapolation</strong>
          <ul>
            {support.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </div>
      ) : null}
      <p>{sentences.filter((one) => !one.startsWith("EXTRAPOLATION")).join(" ")}</p>
      {nearest === undefined ? null : (
        <details>
          <summary>The nearest rows, with their sources</summary>
          <TableView table={nearest} />
        </details>
      )}
    </div>
  );
};
