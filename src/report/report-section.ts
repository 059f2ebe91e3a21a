import type { Figure } from "../figures/figure.js";
import type { ProjectionGoal } from "../projection/goals.js";
import type { NamedProtocol } from "../projection/protocol-list.js";
import type { Table } from "../tables/table.js";
import type { Analysis } from "./analysis.js";

/** A section that stands in the report after the pooled answers. */
export type ReportSection = Readonly<{
  /** Anchor, kebab-case. */
  id: string;
  title: string;
  /** Sentences before the figures. */
  sentences: readonly string[];
  figures: readonly Figure[];
  tables: readonly Table[];
  /** Tables written beside the report and not shown in it. */
  dataTables?: readonly Table[];
}>;

/** What a report is asked for beyond the analysis itself. */
export type ReportWishes = Readonly<{
  /** Protocols to project and compare. */
  protocols?: readonly NamedProtocol[];
  /** Goals to project towards; every goal where absent. */
  goals?: readonly ProjectionGoal[];
}>;

/** Makes a section from an analysis, or nothing where the file or the wishes give no occasion for one. */
export type SectionMaker = (
  analysis: Analysis,
  wishes: ReportWishes,
  progress: (line: string) => void,
) => ReportSection | undefined;
