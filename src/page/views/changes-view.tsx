import { useAnswer, useApp } from "../app.js";
import { ComingAnswer } from "../parts/answer-view.js";
import { useFileKey, useOlder, useShared, WhatIsAsked } from "../parts/asked.js";
import { NotYet } from "../parts/not-yet.js";
import { FileButton, tables } from "../parts/open-panel.js";
import { asOption, useDecisions } from "../parts/use-decisions.js";
import type { OpenFile } from "../open-file.js";
import type { View } from "./view.js";

const Told = ({ older, olderKey }: Readonly<{ older: OpenFile; olderKey: string }>) => {
  const app = useApp();
  const shared = useShared();
  const [decisions] = useDecisions();
  const answer = useAnswer(
    `${useFileKey()} ${olderKey} ${JSON.stringify([shared, decisions])}`,
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
  const { older, olderKey } = useOlder();
  const take = async (file: File): Promise<void> => {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const fingerprint = await app.worker.ask("fingerprint", bytes);
    app.store.set({
      older: { file: { name: file.name, bytes }, fingerprint },
      announcement: `Older file: ${file.name}`,
    });
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
      {older === undefined ? (
        <NotYet form="ranges" parts="Dashed: an answer in the older file. Solid: the same one now.">
          No older file is here yet. With one, every average, verdict and rating that moved is drawn
          before and now.
        </NotYet>
      ) : (
        <Told older={older} olderKey={olderKey} />
      )}
    </>
  );
};

/** What is new in the open file since an older one. */
export const changesView: View = {
  id: "new",
  label: "What is new",
  needsFile: true,
  shows: "Which rows are new since an older file, what moved, and which study moved it.",
  Body: ChangesBody,
};
