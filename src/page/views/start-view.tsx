import { useEffect } from "preact/hooks";
import { useApp, useAppState } from "../app.js";
import { Headline } from "../parts/answer-view.js";
import { Skeleton } from "../parts/hold-strip.js";
import { OpenPanel } from "../parts/open-panel.js";
import { ComparedPicture } from "./protocols/compared-picture.js";
import { useCompared } from "./protocols/use-compared.js";
import { useProtocolTexts } from "./protocols/use-protocol-texts.js";
import type { View } from "./view.js";

/** Two sessions as strips, what the open file lets expect of each, and the call. */
const Live = () => {
  const [texts] = useProtocolTexts();
  const all = useCompared(texts);
  return (
    <section class="live" aria-label="Two sessions compared on the open file">
      {all.compared.answer === undefined ? (
        all.failure === undefined ? (
          <Skeleton />
        ) : (
          <p>{all.failure.message}</p>
        )
      ) : (
        <Headline answer={all.compared.answer} />
      )}
      <ComparedPicture of={all} />
      <ul class="written-list">
        {all.protocols.map(({ letter, read }) => (
          <li key={letter}>
            <strong>{letter}</strong> {read.text}
          </li>
        ))}
      </ul>
    </section>
  );
};

const StartBody: View["Body"] = ({ views }) => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  // With nothing of one's own open, the first screen shows the library that travels with the page.
  useEffect(() => {
    const [library] = app.shipped;
    const { file, busy } = app.store.get();
    if (library !== undefined && file === undefined && busy === undefined)
      void app.openTable({ name: library.name, bytes: new TextEncoder().encode(library.text) });
  }, []);
  return (
    <>
      <div class="start">
        <div>
          <h1 tabIndex={-1}>What do trials say about holding still?</h1>
          <p class="lead">
            Published isometric training on one scale, with what is known and what is not.
            Everything stays on this machine.
          </p>
        </div>
        {check === undefined ? <Skeleton /> : <Live />}
        <section class="own-file" aria-labelledby="own-file">
          <h2 id="own-file">Your own file</h2>
          <OpenPanel />
        </section>
      </div>
      <ul class="doors">
        {views.map(({ id, door }) =>
          door === undefined ? null : (
            <li key={id} class="door">
              <button type="button" onClick={() => app.go(id)}>
                <span class="door-title">{door.title} →</span>
                <span class="door-sentence">{door.sentence}</span>
              </button>
            </li>
          ),
        )}
      </ul>
    </>
  );
};

/** The first screen: one sentence, a live drawing from the open file, and three doors. */
export const startView: View = {
  id: "start",
  label: "Start",
  needsFile: false,
  Body: StartBody,
};
