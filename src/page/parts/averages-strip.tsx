import type { AnswerTo } from "../../answers/question.js";
import type { QuestionOf } from "../../answers/question-list.js";
import { capital, counted } from "../../tables/number-format.js";
import { scaleDisplay } from "../../tables/scale-display.js";
import type { Table } from "../../tables/table.js";
import { AxisMarks } from "./axis-marks.js";
import { linearScale } from "../views/protocols/linear-scale.js";

type EffectScale = Parameters<typeof scaleDisplay>[0];
type Pooled = AnswerTo<QuestionOf<"pool">>;
type Row = Table["rows"][number];

/** How sure each finding is, by its outcome: the words and where the reasons stand; nothing while they are not known. */
export type Sureness = ReadonlyMap<string, Readonly<{ words: string; address: string }>>;

const width = 1000;

/** A range drawn much wider than the averages would press them into a corner: it is cut, and says so. */
const widestTimes = 4;

/** Averages of one table on one axis: the average, its interval, the range of a further study, studies. */
const OneAxis = ({
  table,
  scale: name,
  sure,
}: Readonly<{ table: Table; scale: EffectScale; sure: Sureness | undefined }>) => {
  const display = scaleDisplay(name);
  const value = (row: Row, key: string): number | undefined => {
    const text = row[key] ?? "";
    return text === "" ? undefined : display.toShown(Number(text));
  };
  const widest =
    Math.max(...table.rows.map((row) => Math.abs(value(row, "estimate") ?? 0))) * widestTimes;
  const within = (shown: number): number => Math.min(widest, Math.max(-widest, shown));
  const scale = linearScale(
    table.rows.flatMap((row) =>
      ["intervalLow", "intervalHigh", "predictionLow", "predictionHigh"].flatMap((key) => {
        const shown = value(row, key);
        return shown === undefined ? [] : [within(shown)];
      }),
    ),
    6,
  );
  const at = (shown: number): number => scale.at(shown) * width;
  const span = (row: Row, part: string, [y, height]: readonly [number, number]) => {
    const low = value(row, `${part}Low`);
    const high = value(row, `${part}High`);
    if (low === undefined || high === undefined) return null;
    const from = at(within(low));
    return (
      <>
        <rect
          class={`strip-${part}`}
          x={from}
          width={Math.max(2, at(within(high)) - from)}
          y={y}
          height={height}
        />
        {high > widest ? (
          <path class="strip-cut" d={`M${at(widest)} ${y}l10 ${height / 2}l-10 ${height / 2}`} />
        ) : null}
        {low < -widest ? (
          <path class="strip-cut" d={`M${at(-widest)} ${y}l-10 ${height / 2}l10 ${height / 2}`} />
        ) : null}
      </>
    );
  };
  const unit = display.sign;
  return (
    <div class="averages" role="table" aria-label={table.title}>
      {table.rows.map((row) => {
        const middle = value(row, "estimate") ?? 0;
        const told = sure?.get(row["group"] ?? "");
        return (
          <div key={row["group"]} class="average-row" role="row">
            <span class="outcome" role="rowheader">
              {capital(row["group"] ?? "")}
              {display.heading === scaleDisplay("log-ratio-of-means").heading
                ? ""
                : `, ${display.heading.toLowerCase()}`}
              <span class="quiet"> {counted(Number(row["studies"]), "study", "studies")}</span>
            </span>
            <span class="large-number" role="cell">
              {row["shown"]}
              {unit}
            </span>
            <span class="interval" role="cell">
              {row["shownInterval"]}
              {unit}
            </span>
            <span class="sureness" role="cell">
              {told === undefined ? null : <a href={told.address}>Certainty: {told.words}</a>}
            </span>
            <svg viewBox={`0 0 ${width} 40`} preserveAspectRatio="none" aria-hidden="true">
              <line class="zero" x1={at(0)} x2={at(0)} y1={0} y2={40} />
              {span(row, "prediction", [8, 24])}
              {span(row, "interval", [14, 12])}
              <line class="strip-middle" x1={at(middle)} x2={at(middle)} y1={6} y2={34} />
            </svg>
          </div>
        );
      })}
      <div class="average-axis" aria-hidden="true">
        <AxisMarks
          marks={scale.ticks.map((tick) => ({
            at: scale.at(tick),
            text: tick === 0 ? "no change" : `${String(tick).replace("-", "−")}${unit}`,
            first: tick === 0,
          }))}
        />
      </div>
      <p class="key">
        <span class="swatch strip-interval" /> interval of the average{" "}
        <span class="swatch strip-prediction" /> range of a further study; an arrow where a range
        goes on
      </p>
    </div>
  );
};

/** Every average of an answer, aligned on one axis for each kind of change; what has none is named below. */
export const AveragesStrip = ({
  answer,
  sure,
}: Readonly<{ answer: Pooled; sure?: Sureness | undefined }>) => {
  const { groups } = answer.data;
  const refused = groups.filter((group) => "refusal" in group && group.refusal !== null);
  // A ready effect's own scale is shown as it stands.
  const scaleOf = ({ rows }: Table): EffectScale => {
    const own = groups.find(({ group }) => group === rows[0]?.["group"]);
    return (own !== undefined && "scale" in own ? own.scale : undefined) ?? "raw-mean-difference";
  };
  return (
    <>
      {answer.tables
        .filter(({ id }) => id.startsWith("averages"))
        .map((table) => (
          <OneAxis key={table.id} table={table} scale={scaleOf(table)} sure={sure} />
        ))}
      {refused.length === 0 ? null : (
        <p class="quiet">No average: {refused.map(({ group }) => group).join("; ")}.</p>
      )}
    </>
  );
};
