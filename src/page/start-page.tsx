import { render } from "preact";
import { AppShell } from "./app-shell.js";
import { AppContext, createApp } from "./app.js";
import { keepChanges } from "./kept-on-machine.js";
import { openDropped } from "./open-dropped.js";
import { pageData, programId } from "./page-data.js";
import { createDrawer } from "./drawer.js";
import { startTheme } from "./theme.js";
import { createWorkerClient } from "./worker-client.js";
import { views } from "./views/view-list.js";

/** Draws the page into its document and opens the table that came with it. */
export const startPage = (page: Document): void => {
  startTheme();
  const { shipped, glossary, letters, type, open } = pageData(page);
  const program = page.getElementById(programId)?.textContent ?? undefined;
  const app = createApp(
    createWorkerClient(program),
    createDrawer(() => createWorkerClient(program), letters, type),
    shipped,
    glossary,
    views[0]?.id ?? "start",
  );
  keepChanges(app.store);
  const root = page.getElementById("holdbook");
  if (root === null) return;
  render(
    <AppContext.Provider value={app}>
      <AppShell />
    </AppContext.Provider>,
    root,
  );
  // Dropped beside the drop zone, a file would else take the page's place.
  page.addEventListener("dragover", (event) => event.preventDefault());
  page.addEventListener("drop", (event) => {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) void openDropped(app, file);
  });
  if (open !== null) void app.openTable(open);
};
