import { useApp, useAppState } from "../app.js";
import { OpenPanel } from "../parts/open-panel.js";
import type { View } from "./view.js";

/** Whose door stands first: most people come to compare. */
const doorOrder = ["For practitioners", "For educators", "For students"];

const place = ({ door }: View): number => doorOrder.indexOf(door?.person ?? "");

/** A door for one person: leads to its view, with the demonstration where no table is open. */
const Door = ({ view }: Readonly<{ view: View }>) => {
  const app = useApp();
  const { door } = view;
  if (door === undefined) return null;
  const enter = (): void => {
    if (view.needsFile && app.store.get().file === undefined) void app.openDemo();
    app.go(view.id);
  };
  return (
    <li class="door">
      <button type="button" onClick={enter}>
        <span class="person">{door.person}</span>
        <span class="door-title">{door.title}</span>
        <span class="door-sentence">{door.sentence}</span>
      </button>
    </li>
  );
};

const StartBody: View["Body"] = ({ views }) => {
  const check = useAppState((state) => state.check);
  return (
    <>
      <p class="lead">
        What published trials say about isometric training: every number with its interval, and how
        it was made. Everything happens on this machine; nothing is sent anywhere.
      </p>
      <ul class="doors">
        {views
          .toSorted((first, second) => place(first) - place(second))
          .map((view) => (
            <Door key={view.id} view={view} />
          ))}
      </ul>
      <h2>{check === undefined ? "Your table" : "Another table"}</h2>
      <OpenPanel />
    </>
  );
};

/** The first screen: three doors, and where a table comes in. */
export const startView: View = {
  id: "start",
  label: "Start",
  needsFile: false,
  Body: StartBody,
};
