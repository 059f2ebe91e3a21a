import type { AddedRows, AddedTold } from "../../../answers/added-rows.js";
import type { QuestionId, QuestionOf } from "../../../answers/question-list.js";
import type { AnswerTo } from "../../../answers/question.js";
import type { EntryRows, TrialEntry } from "../../../records/trial-entry.js";
import { capital, counted } from "../../../tables/number-format.js";
import type { Table } from "../../../tables/table.js";
import { useAnswer, useApp, type Coming } from "../../app.js";
import { List } from "../../parts/answer-view.js";
import { useFileKey, useShared } from "../../parts/asked.js";
import { FailedAnswer } from "../../parts/failed-answer.js";
import { Skeleton } from "../../parts/hold-strip.js";
import { TableView } from "../../parts/table-view.js";

type AnswerOf<Id extends QuestionId> = AnswerTo<QuestionOf<Id>>;

/** A question about the open file, with the rows being typed or without. */
const useAsked = <Id extends QuestionId>(id: Id, added?: AddedRows): Coming<AnswerOf<Id>> => {
  const { worker } = useApp();
  const asked = { id, options: {}, shared: useShared(), ...(added === undefined ? {} : { added }) };
  return useAnswer(
    `${useFileKey()} ${JSON.stringify(asked)}`,
    () => worker.ask("ask", asked) as unknown as Promise<AnswerOf<Id>>,
  );
};

/** Rows of the tables of averages, by the outcome each is of. */
const averagesOf = ({ tables }: Pick<AnswerOf<"pool">, "tables">): ReadonlyMap<string, string> =>
  new Map(
    tables
      .filter(({ id }) => id.startsWith("averages"))
      .flatMap(({ rows, columns }) => {
        const unit = columns.find(({ key }) => key === "shown")?.unit ?? "";
        return rows.map(({ group = "", shown = "", shownInterval = "", ...counts }) => [
          group,
          `${shown}${unit === "%" ? "" : " "}${unit} (${shownInterval}), ${counted(Number(counts["effects"]), "effect")} in ${counted(Number(counts["studies"]), "study", "studies")}`,
        ]);
      }),
  );

/** What the new rows do to the averages of the file. */
const averagesTable = (before: AnswerOf<"pool"> | undefined, after: AnswerOf<"pool">): Table => {
  const [old, now] = [before === undefined ? new Map() : averagesOf(before), averagesOf(after)];
  const changed = [...now].filter(([group, text]) => old.get(group) !== text);
  return {
    id: "averages-with-the-trial",
    title:
      changed.length === 0
        ? "No average of the file changes"
        : "What the trial does to the averages of the file",
    columns: ["Outcome", "Without it", "With it"].map((label) => ({
      ...{ key: label, label, align: "left" },
    })),
    rows: changed.map(([group, text]) => ({
      Outcome: capital(group),
      "Without it": String(old.get(group) ?? "no average"),
      "With it": text,
    })),
    notes: [],
  };
};

/** The trial's effects as they will be used, what becomes of each row, and what they do to the averages. */
export const EntryTold = ({
  entry,
  rows,
  told,
  hasFile,
}: Readonly<{ entry: TrialEntry; rows: EntryRows; told: AddedTold; hasFile: boolean }>) => {
  const { header, rows: cells } = rows;
  const added = { header, rows: cells };
  const effects = useAsked("effects", added);
  const after = useAsked("pool", added);
  const check = useAsked("check", added);
  const before = useAsked("pool");
  for (const one of [effects, after, check])
    if (one.state === "failed") return <FailedAnswer answer={one} />;
  if (effects.state !== "done" || after.state !== "done" || check.state !== "done")
    return <Skeleton />;
  if (hasFile && before.state === "waiting") return <Skeleton />;
  const ours = new Set(
    effects.output.data.effects
      .filter(({ line }) => line > told.above)
      .map(({ effectId }) => effectId),
  );
  const own = effects.output.tables.flatMap((table) => {
    const some = table.rows.filter(({ effectId = "" }) => ours.has(effectId));
    const shown = ["arm", "outcome", "participants", "shown", "interval"];
    return some.length === 0
      ? []
      : [
          {
            ...table,
            title: "Each arm's effect as it will be used",
            columns: table.columns.filter(({ key }) => shown.includes(key)),
            rows: some,
            notes: table.notes.slice(0, 1),
          },
        ];
  });
  const fates = check.output.data.fates
    .filter(({ line }) => line > told.above)
    .map(({ fate, reason, wanted }, at) => {
      const { arm, outcome } = rows.of[at] ?? { arm: 0, outcome: 0 };
      const name = entry.arms[arm]?.arm ?? `Arm ${arm + 1}`;
      const of = entry.outcomes[outcome]?.outcome ?? `outcome ${outcome + 1}`;
      const why = reason === "" ? "" : ` (${reason})`;
      return `${name}, ${of}: ${fate}${why}.${wanted === "" ? "" : ` What would change it: ${wanted}.`}`;
    });
  return (
    <>
      {own.map((table) => (
        <TableView key={table.id} table={table} />
      ))}
      <List items={fates} />
      <TableView
        table={averagesTable(before.state === "done" ? before.output : undefined, after.output)}
      />
    </>
  );
};
