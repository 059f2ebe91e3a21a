import type { App } from "./app.js";
import { asOne, partsOf } from "./open-file.js";
import { openProject } from "./project-file.js";

/** Opens what a person dropped or chose: a project where it says it is one, else a table. */
export const openDropped = async (app: App, file: File): Promise<void> => {
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (file.name.toLowerCase().endsWith(".json")) await openProject(app, file.name, bytes);
  else {
    await app.openTable({ name: file.name, bytes });
    // Whoever brings a table wants to know first whether it can be used.
    if (app.store.get().address.view === "start") app.go("data");
  }
};

/** Adds what a person chose to the open table, as one file with it. */
export const addChosen = async (app: App, file: File): Promise<void> => {
  const bytes = new Uint8Array(await file.arrayBuffer());
  await app.arrange((open) => asOne([...partsOf(open), { name: file.name, bytes }])!);
};
