import * as z from "zod";
import { readDecisions } from "../answers/certainty-decisions.js";
import { DataError, type Issue } from "../errors.js";
import { isChoice, longestChoice, writeAddress } from "./address.js";
import type { App } from "./app.js";
import { fromBase64, toBase64 } from "./base64.js";
import { failureOf } from "./failure.js";
import { asOne, partsOf, type OpenFile } from "./open-file.js";

/** The word that tells a project file from any other JSON. */
const projectKind = "Holdbook project";

/** Letters of an outline at most: hundreds of slides. */
const longestOutline = 1_000_000;

const tableSchema = z.strictObject({
  name: z.string().min(1).max(255),
  /** Whether `content` is the file's text, or its bytes where they are no UTF-8. */
  form: z.enum(["text", "base64"]),
  content: z.string(),
  /** Of a workbook: the sheet that was chosen. */
  sheet: z.string().max(255).exactOptional(),
});

const projectSchema = z.strictObject({
  kind: z.literal(projectKind),
  version: z.literal(1),
  view: z.string().regex(/^[a-z][a-z0-9-]{0,40}$/, "a view's name: small letters and hyphens"),
  choices: z.record(z.string(), z.string().max(longestChoice)),
  table: tableSchema.nullable(),
  /** Files that are one with the table. */
  others: z.array(tableSchema).max(50).exactOptional(),
  /** What a person decided of certainty, as the text of its file. */
  decisions: z.string().exactOptional(),
  /** The outline of the course, where one was made. */
  outline: z.string().max(longestOutline).exactOptional(),
});

/** What a project file holds: the table, the choices, the view that was open, and what a person decided and outlined. */
export type Project = z.infer<typeof projectSchema>;

const textOf = (bytes: Uint8Array): string | undefined => {
  try {
    const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
    return text;
  } catch {
    return undefined;
  }
};

const tableWritten = ({ name, bytes, sheet }: OpenFile): z.infer<typeof tableSchema> => {
  const text = textOf(bytes);
  return {
    name,
    ...(text === undefined
      ? { form: "base64", content: toBase64(bytes) }
      : { form: "text", content: text }),
    ...(sheet === undefined ? {} : { sheet }),
  };
};

/** The text of a project file; the table's bytes come back as they were. */
export const writeProject = (
  file: OpenFile | undefined,
  view: string,
  choices: Readonly<Record<string, string>>,
  { decisions = "", outline = "" }: Readonly<{ decisions?: string; outline?: string }> = {},
): string => {
  const [table = null, ...others] = file === undefined ? [] : partsOf(file).map(tableWritten);
  const project: Project = {
    kind: projectKind,
    version: 1,
    view,
    choices: { ...choices },
    table,
    ...(others.length === 0 ? {} : { others }),
    ...(decisions === "" ? {} : { decisions }),
    ...(outline === "" ? {} : { outline }),
  };
  return `${JSON.stringify(project, null, 1)}\n`;
};

const problem = (column: string, message: string, mend: string, value = ""): Issue => ({
  code: "project-file",
  severity: "error",
  line: 0,
  column,
  value,
  message,
  mend,
});

/**
 * A project file read and checked to the last field.
 *
 * @throws {DataError} with one issue for each field that is not as it should be
 */
export const readProject = (text: string): Project => {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new DataError([
      problem("", `the file is not JSON: ${reason}`, "open a project that this page saved"),
    ]);
  }
  const parsed = projectSchema.safeParse(json);
  if (!parsed.success) {
    throw new DataError(
      parsed.error.issues.map(({ path, message }) =>
        problem(path.join("."), message, "save the project again from this page"),
      ),
    );
  }
  const bad = Object.entries(parsed.data.choices).filter(([name, value]) => !isChoice(name, value));
  if (bad.length > 0)
    throw new DataError(
      bad.map(([name]) =>
        problem(`choices.${name}`, "this is no name of a choice", "take the entry out"),
      ),
    );
  return parsed.data;
};

/** A table of a project as it was saved. */
const tableOf = ({ name, form, content, sheet }: z.infer<typeof tableSchema>): OpenFile => {
  try {
    const bytes = form === "text" ? new TextEncoder().encode(content) : fromBase64(content);
    return { name, bytes, ...(sheet === undefined ? {} : { sheet }) };
  } catch {
    throw new DataError([
      problem("table.content", "this is no base64", "save the project again from this page"),
    ]);
  }
};

/** Opens a project: its table, its choices, its view and its outline; problems are shown, nothing is half opened. */
export const openProject = async (app: App, name: string, bytes: Uint8Array): Promise<void> => {
  try {
    const project = readProject(new TextDecoder().decode(bytes));
    const { table, others = [] } = project;
    const file = asOne((table === null ? [] : [table, ...others]).map(tableOf));
    if (file === undefined) app.closeTable();
    else {
      const { decisions = "" } = project;
      if (decisions !== "") readDecisions(decisions);
      await app.openTable(file);
      app.store.set({ decisions: { ...app.store.get().decisions, [file.name]: decisions } });
    }
    app.store.set({ outline: project.outline ?? "" });
    location.hash = writeAddress({ view: project.view, choices: project.choices });
    app.announce(`Opened project ${name}`);
  } catch (error) {
    app.store.set({ failure: failureOf(error) });
  }
};
