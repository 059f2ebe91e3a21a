import { useEffect, useRef } from "preact/hooks";
import { issueText } from "../errors.js";
import { useApp, useAppState } from "./app.js";
import { OpenPanel } from "./parts/open-panel.js";
import { writeProject } from "./project-file.js";
import { saveFile } from "./save-file.js";
import { ThemeSwitch } from "./theme-switch.js";
import { HoldStrip, Skeleton } from "./parts/hold-strip.js";
import { places, views } from "./views/view-list.js";
import type { Place, View } from "./views/view.js";
import { writeAddress } from "./address.js";

const Links = ({
  views: listed,
  ...names
}: Readonly<{ views: readonly View[]; "aria-label": string; class: string }>) => {
  const address = useAppState((state) => state.address);
  return (
    <nav {...names}>
      <ul>
        {listed.map((view) => (
          <li key={view.id}>
            <a
              href={writeAddress({ view: view.id, choices: address.choices })}
              {...(view.id === address.view ? { "aria-current": "page" as const } : {})}
            >
              {view.label}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
};

/** The places; each leads to its first view. */
const Places = ({ here }: Readonly<{ here: Place | undefined }>) => {
  const choices = useAppState((state) => state.address.choices);
  return (
    <nav aria-label="Places" class="places">
      <ul>
        {places.map((place) => (
          <li key={place.label}>
            <a
              href={writeAddress({ view: place.views[0]?.id ?? "", choices })}
              {...(place === here
                ? { "aria-current": place.views.length > 1 ? ("true" as const) : ("page" as const) }
                : {})}
            >
              {place.label}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
};

/** What is open, and whether it is real. */
const FileLine = () => {
  const app = useApp();
  const check = useAppState((state) => state.check);
  const choices = useAppState((state) => state.address.choices);
  const save = (): void => {
    const { file, address, decisions, outline } = app.store.get();
    const name = (file?.name ?? "holdbook").replace(/\.[^.]*$/, "");
    saveFile(
      `${name}-project.json`,
      writeProject(file, address.view, address.choices, {
        decisions: decisions[file?.name ?? ""] ?? "",
        outline,
      }),
      "application/json",
    );
  };
  if (check === undefined) return null;
  return (
    <section
      class={check.invented ? "file-strip invented" : "file-strip"}
      aria-label="The open file"
    >
      {check.invented ? (
        <p>
          <strong>Invented data</strong>
          <span class="longer">: every trial in this file was made up</span>; nothing here is
          evidence.
        </p>
      ) : (
        <p class={check.errors === 0 ? "opened" : "opened with-problems"}>
          <strong title={check.name}>{check.name}</strong>
          <span>
            , {check.rowsInFile} {check.rowsInFile === 1 ? "row" : "rows"}
            {check.errors === 0 ? null : ","}
          </span>
          {check.errors === 0 ? null : (
            <>
              {" "}
              <a href={writeAddress({ view: "data", choices })}>
                {check.errors} {check.errors === 1 ? "problem" : "problems"} to mend
              </a>
            </>
          )}
        </p>
      )}
      <button type="button" class="quiet-button" onClick={save}>
        Save project
      </button>
    </section>
  );
};

const BusyLine = () => {
  const app = useApp();
  const busy = useAppState((state) => state.busy);
  return (
    <div class={busy === undefined ? "busy idle" : "busy"} role="status">
      {busy === undefined ? null : (
        <>
          <HoldStrip class="moving" />
          <span>
            {busy.title}
            {busy.line === "" ? "" : `: ${busy.line}`}
          </span>
          <button type="button" onClick={app.cancel}>
            Cancel
          </button>
        </>
      )}
    </div>
  );
};

const FailurePanel = () => {
  const app = useApp();
  const failure = useAppState((state) => state.failure);
  if (failure === undefined) return null;
  return (
    <div class="failure" role="alert">
      <strong>This did not work.</strong>
      {failure.issues.length > 0 ? (
        <ul>
          {failure.issues.slice(0, 20).map((issue) => (
            <li key={issueText(issue)}>{issueText(issue)}</li>
          ))}
        </ul>
      ) : (
        <p>{failure.message}</p>
      )}
      <button type="button" onClick={() => app.store.set({ failure: undefined })}>
        Close this message
      </button>
    </div>
  );
};

const Main = () => {
  const viewId = useAppState((state) => state.address.view);
  const hasFile = useAppState((state) => state.check !== undefined);
  const busy = useAppState((state) => state.busy !== undefined);
  const heading = useRef<HTMLHeadingElement>(null);
  const first = useRef(true);
  const view = views.find(({ id }) => id === viewId) ?? views[0];
  useEffect(() => {
    document.title = view === undefined ? "Holdbook" : `${view.label} · Holdbook`;
    // Whoever follows a link with the keyboard goes on from the new view's heading.
    if (!first.current) heading.current?.focus();
    first.current = false;
  }, [view]);
  if (view === undefined) return null;
  const { Body } = view;
  return (
    <main id="main">
      {view.id === "start" ? null : (
        <h1
          ref={heading}
          tabIndex={-1}
          {...(places.some(({ views: inPlace }) => inPlace.length > 1 && inPlace.includes(view))
            ? { class: "unseen" }
            : {})}
        >
          {view.label}
        </h1>
      )}
      {view.needsFile && !hasFile ? (
        busy ? null : (
          <>
            <p class="lead">{view.shows}</p>
            <Skeleton />
            <p class="quiet">
              This view needs a file. A link carries the choices made, never the data: open the same
              file to see the same numbers.
            </p>
            <OpenPanel />
          </>
        )
      ) : (
        <Body views={views} />
      )}
    </main>
  );
};

/** The page: header, places, what is open, the view, and what is said aloud. */
export const AppShell = () => {
  const announcement = useAppState((state) => state.announcement);
  const { view, choices } = useAppState((state) => state.address);
  const here = places.find(({ views: inPlace }) => inPlace.some(({ id }) => id === view));
  return (
    <>
      <a
        class="skip"
        href="#main"
        onClick={(event) => {
          // The address after # holds the view, so the jump is made by hand.
          event.preventDefault();
          document.querySelector("main")?.querySelector("h1")?.focus();
        }}
      >
        Skip to the content
      </a>
      <header class="top">
        <a
          class="name"
          href={writeAddress({ view: "start", choices })}
          {...(view === "start" ? { "aria-current": "page" as const } : {})}
        >
          <HoldStrip /> Holdbook
        </a>
        <Places here={here} />
        <FileLine />
        <ThemeSwitch />
      </header>
      {here === undefined || here.views.length < 2 ? null : (
        <Links aria-label={here.label} class="within" views={here.views} />
      )}
      <BusyLine />
      <FailurePanel />
      <Main />
      <footer>
        <p>
          Averages over groups of volunteers in published trials; no medical advice and no clearance
          for anyone.
        </p>
      </footer>
      <div class="unseen" role="status" aria-live="polite">
        {announcement}
      </div>
    </>
  );
};
