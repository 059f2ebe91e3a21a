import { questionList, type Place } from "../answers/question-list.js";
import type { CommandRegistration } from "./terminal.js";

type Entry = Readonly<{ place: Place; example: string; load: () => Promise<CommandRegistration> }>;

/**
 * Every command that asks no question, by its name, in the order the help lists them, with an example on the files that
 * ship; each is loaded when it is asked for, so that a quick one starts quickly. A new command is one file and one line here.
 */
export const commands: Readonly<Record<string, Entry>> = {
  start: {
    place: "Report",
    example: "",
    load: async () => (await import("./report-command.js")).startCommand,
  },
  template: {
    place: "Data",
    example: "-o my.csv",
    load: async () => (await import("./template-command.js")).templateCommand,
  },
  codebook: {
    place: "Data",
    example: "",
    load: async () => (await import("./template-command.js")).codebookCommand,
  },
  add: {
    place: "Data",
    example: "my-trials.csv",
    load: async () => (await import("./add-command.js")).addCommand,
  },
  import: {
    place: "Data",
    example:
      "data/historic_isometric_trials.csv --map data/historic-isometric-map.json -o historic.csv",
    load: async () => (await import("./import-command.js")).importCommand,
  },
  report: {
    place: "Report",
    example: "data/published-outcomes.csv --protocols data/example-protocols.txt -o my-report",
    load: async () => (await import("./report-command.js")).reportCommand,
  },
  reproduce: {
    place: "Report",
    example: "my-report/figures/brief-session.recipe.json data/published-outcomes.csv",
    load: async () => (await import("./reproduce-command.js")).reproduceCommand,
  },
  verify: {
    place: "Report",
    example: "size.svg data/published-outcomes.csv",
    load: async () => (await import("./reproduce-command.js")).verifyCommand,
  },
  references: {
    place: "Data",
    example: "data/published-outcomes.csv",
    load: async () => (await import("./references-command.js")).referencesCommand,
  },
  course: {
    place: "Teach",
    example: "data/published-outcomes.csv -o my-course",
    load: async () => (await import("./course-command.js")).courseCommand,
  },
  notebook: {
    place: "Teach",
    example: "my-notebook data/published-outcomes.csv",
    load: async () => (await import("./notebook-command.js")).notebookCommand,
  },
  page: {
    place: "Report",
    example: "data/published-outcomes.csv -o holdbook.html",
    load: async () => (await import("./page-command.js")).pageCommand,
  },
};

const places: readonly Place[] = ["Evidence", "Protocols", "Data", "Teach", "Report"];
const entries: Readonly<Record<string, Pick<Entry, "place" | "example">>> = {
  ...questionList,
  ...commands,
};

/** The names of all commands, place by place. */
export const commandNames: readonly string[] = Object.keys(entries).sort(
  (a, b) => places.indexOf(entries[a]!.place) - places.indexOf(entries[b]!.place),
);

/** Where a command stands in the help, and its example as it is typed. */
export const helpOf = (name: string): Readonly<{ group: string; example: string }> => {
  const { place, example } = entries[name]!;
  return { group: `${place}:`, example: `holdbook ${name} ${example}`.trimEnd() };
};
