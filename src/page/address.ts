/** What the address says: the view, and the choices made, never the data. */
export type Address = Readonly<{
  view: string;
  /** Plain text by name; whoever reads a choice checks it. */
  choices: Readonly<Record<string, string>>;
}>;

/** Longer names and texts are no choice a person made here, so they are dropped. */
export const longestChoice = 600;
const mostChoices = 80;
const choiceName = /^[a-z][a-z0-9-]{0,40}$/;

/** Whether a text may stand as a choice of that name. */
export const isChoice = (name: string, text: string): boolean =>
  choiceName.test(name) && text.length <= longestChoice;

/**
 * The address that the part after # writes, e.g. `#/answers?scale=log-ratio-of-means`.
 *
 * Anything that is no view name or choice is left out, so that any address opens something.
 */
export const readAddress = (hash: string, firstView: string): Address => {
  const [path = "", query = ""] = hash.replace(/^#\/?/, "").split("?", 2);
  const view = /^[a-z][a-z0-9-]{0,40}$/.test(path) ? path : firstView;
  const choices = [...new URLSearchParams(query)]
    .filter(([name, text]) => isChoice(name, text))
    .slice(0, mostChoices);
  return { view, choices: Object.fromEntries(choices) };
};

/** The part after # for an address; choices in the order of their names, so that like links look alike. */
export const writeAddress = ({ view, choices }: Address): string => {
  const names = Object.keys(choices).sort();
  const query = new URLSearchParams(names.map((name) => [name, choices[name] ?? ""])).toString();
  return `#/${view}${query === "" ? "" : `?${query}`}`;
};

/** One variable and one kind of outcome, looked at closely. */
export type VariableChosen = Readonly<{ family: string; axis: string }>;

const rowChoice = "variables-row";

/** The address of one variable looked at closely; of all of them without one. */
export const variableAddress = (
  { [rowChoice]: _before, ...choices }: Address["choices"],
  one?: VariableChosen,
): string =>
  writeAddress({
    view: "variables",
    choices: one === undefined ? choices : { ...choices, [rowChoice]: `${one.family}.${one.axis}` },
  });

/** The variable that an address looks at closely. */
export const variableIn = ({
  [rowChoice]: text = "",
}: Address["choices"]): VariableChosen | undefined => {
  const [, family, axis] = /^(.+)\.([^.]+)$/.exec(text) ?? [];
  return family === undefined || axis === undefined ? undefined : { family, axis };
};
