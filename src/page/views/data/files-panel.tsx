import { useApp } from "../../app.js";
import type { FileCheck } from "../../jobs/open-job.js";
import { asOne, partsOf, type OpenFile } from "../../open-file.js";
import { Choice } from "../choice.js";

/** The files that are open together: the sheet of each workbook, and how to take one out. */
export const FilesPanel = ({
  check,
  whole,
}: Readonly<{ check: FileCheck; whole: OpenFile }>) => {
  const app = useApp();
  const parts = partsOf(whole);
  const takeOut = (at: number): void =>
    void app.arrange((open) => asOne(partsOf(open).filter((_, place) => place !== at)) ?? open);
  const choose = (at: number, sheet: string): void =>
    void app.arrange((open) => {
      const before = partsOf(open);
      return asOne(before.with(at, { ...before[at]!, sheet })) ?? open;
    });
  return (
    <ul class="files">
      {check.parts.map(({ name, sheet }, at) => (
        <li key={`${at} ${name}`} class="row">
          <span class="long-text">{parts[at]?.name ?? name}</span>
          {sheet === undefined || sheet.names.length < 2 ? null : (
            <Choice
              label={`Sheet${parts.length > 1 ? ` of ${parts[at]?.name ?? name}` : ""}`}
              value={sheet.name}
              words={sheet.names}
              onChange={(word) => choose(at, word)}
            />
          )}
          {parts.length > 1 ? (
            <button type="button" class="quiet-button" onClick={() => takeOut(at)}>
              Take out<span class="unseen"> {name}</span>
            </button>
          ) : null}
        </li>
      ))}
    </ul>
  );
};
