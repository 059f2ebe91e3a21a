import { useAnswer, useApp, useAppState } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { useFileKey, useShared, WhatIsAsked } from "../parts/asked.js";
import { FileButton, tables } from "../parts/open-panel.js";
import { asOption, useDecisions } from "../parts/use-decisions.js";
import type { OpenFile } from "../open-file.js";
import type { View } from "./view.js";

const Told = ({ older }: Readonly<{ older: OpenFile }>) => {
  const app = useApp();
  const shared = useShared();
  const [decisions] = useDecisions();
  const answer = useAnswer(
    `${useFileKey()} ${older.name} ${older.bytes.length} ${JSON.stringify([shared, decisions])}`,
    (tell) => {
      const options = { older, ...asOption(decisions) };
      return app.worker.ask("ask", { id: "changes", options, shared }, { tell });
    },
    `Setting it beside ${older.name}`,
  );
  return (
    <ComingAnswer answer={answer}>
      <WhatIsAsked />
    </ComingAnswer>
  );
};

const ChangesBody = () => {
  const app = useApp();
  const older = useAppState((state) => state.older);
  const take = async (file: File): Promise<void> => {
    const bytes = new Uint8Array(await file.arrayBuffer());
    app.store.set({ older: { name: file.name, bytes }, announcement: `Older file: ${file.name}` });
  };
  return (
    <>
      <p class="lead">
        Set the open file beside an older one, or beside the results.json of an older report: which
        rows are new or edited, what moved, and which study moved it.
      </p>
      <div class="row">
        <FileButton
          words={older === undefined ? "Choose the older file" : "Choose another older file"}
          label="Older file"
          accept={`${tables},.json,application/json`}
          main={older === undefined}
          take={take}
        />
        {older === undefined ? (
          <span class="quiet">
            The open file stays open; the report then has a part “What is new”.
          </span>
        ) : (
          <button
            type="button"
            class="quiet-button"
            onClick={() => app.store.set({ older: undefined })}
          >
            Put {older.name} away
          </button>
        )}
      </div>
      {older === undefined ? null : <Told older={older} />}
    </>
  );
};

/** What is new in the open file since an older one. */
export const changesView: View = {
  id: "new",
  label: "What is new",
  needsFile: true,
  Body: ChangesBody,
};
