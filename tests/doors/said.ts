/** What a door printed of an answer, read back from its text or HTML: paragraphs and tables. */

export type Said = Readonly<{
  /** Headline and sentences, one after the other. */
  text: string;
  /** Rows of cells without the headings, by the table's title. */
  tables: Readonly<Record<string, readonly (readonly string[])[]>>;
}>;

const plain = (text: string): string => text.replaceAll(/\s+/g, " ").trim();

const entities: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"' };

const textOf = (html: string): string =>
  plain(
    html
      .replaceAll(/<[^>]*>/g, "")
      .replaceAll(/&#(\d+);/g, (_all, code) => String.fromCodePoint(Number(code)))
      .replaceAll(/&(amp|lt|gt|quot);/g, (all, name: string) => entities[name] ?? all),
  );

/** What stands before and after an answer's own words: that a file is invented, and the doubts. */
const isBeside = (text: string): boolean => /^(?:INVENTED DATA|Note: )/.test(text);

/** The sentence about the rows in doubt counts those of the whole answer, so it differs where one kind of outcome is asked. */
const withoutRowDoubts = (text: string): string =>
  text.replaceAll(/\d[\d,]* of the \d[\d,]* rows? behind this (?:is|are) in doubt: .*?\)\. ?/g, "");

/** What HTML says of an answer: the paragraphs before anything else, and every table. */
export const saidInHtml = (html: string): Said => {
  const [opening = ""] = html.split(/<(?:table|figure|img|details|ul|button)\b/, 1);
  return {
    text: withoutRowDoubts(
      [...opening.matchAll(/<p\b[^>]*>(.*?)<\/p>/gs)]
        .map((match) => textOf(match[1] ?? ""))
        .filter((text) => !isBeside(text))
        .join(" "),
    ),
    tables: Object.fromEntries(
      [...html.matchAll(/<caption[^>]*>(.*?)<\/caption>(.*?)<\/table>/gs)].map((match) => [
        textOf(match[1] ?? ""),
        [...(match[2] ?? "").matchAll(/<tr>(.*?)<\/tr>/gs)]
          .slice(1)
          .map((row) =>
            [...(row[1] ?? "").matchAll(/<t[hd]\b[^>]*>(.*?)<\/t[hd]>/gs)].map((cell) =>
              textOf(cell[1] ?? ""),
            ),
          ),
      ]),
    ),
  };
};

/** Rows of a table drawn for a terminal; a cell that goes over several lines is put together again. */
const rowsInText = (lines: readonly string[]): readonly (readonly string[])[] => {
  const rule = lines.findIndex((line) => /^─[─ ]*$/.test(line));
  const columns = [...(lines[rule] ?? "").matchAll(/─+/g)].map(({ index, 0: dashes }) => ({
    from: index,
    to: index + dashes.length,
  }));
  const rows: string[][] = [];
  for (const line of lines.slice(rule + 1)) {
    const cells = columns.map(({ from, to }) => line.slice(from, to).trim());
    const above = rows.at(-1);
    // A line that leaves half of its columns empty goes on with the row above.
    const isMore = 2 * cells.filter((cell) => cell === "").length >= cells.length;
    if (above !== undefined && isMore)
      cells.forEach((cell, place) => {
        above[place] = plain(`${above[place] ?? ""} ${cell}`);
      });
    else rows.push(cells);
  }
  return rows;
};

/** What a terminal shows of an answer: blocks apart from each other by a blank line. */
export const saidInText = (out: string): Said => {
  const blocks = out.split("\n\n").filter((block) => !isBeside(block) && !block.startsWith("! "));
  const firstOther = blocks.findIndex((block) => /^(?:--all|Doubts and notes)|[─█▆|]/m.test(block));
  const tables = blocks.flatMap((block, place) =>
    /^─[─ ]*$/m.test(block)
      ? [[plain(blocks[place - 1] ?? ""), rowsInText(block.trimEnd().split("\n"))] as const]
      : [],
  );
  const title = tables[0]?.[0];
  return {
    text: withoutRowDoubts(
      blocks
        .slice(0, firstOther === -1 ? undefined : firstOther)
        .map(plain)
        .filter((block) => block !== title)
        .join(" "),
    ),
    tables: Object.fromEntries(tables),
  };
};

/** Every number of a text as it is printed. */
export const digitsOf = (text: string): readonly string[] =>
  text.match(/−?\d[\d,]*(?:\.\d+)?%?/g) ?? [];

/** What is said of one kind of outcome: its average or that there is none, and what stands beside it. */
export type SaidAverage = Readonly<{ average: readonly string[]; beside: readonly string[] }>;

/** Every estimate with its interval in a row, however the row is cut into cells: a terminal joins some of them. */
export const intervalsOf = (row: readonly string[]): readonly string[] =>
  row.join(" ").match(/−?[\d.,]+%? \(−?[\d.,]+ to −?[\d.,]+\)/g) ?? [];

/** Every kind of outcome that averages are printed of on a contrast, by its name. */
export const averagesIn = (
  { text }: Said,
  contrast: string,
): Readonly<Record<string, SaidAverage>> => {
  const starts = [
    ...text.matchAll(new RegExp(`([A-Z][^.:]*(?:: [^.:]*)?), ${contrast}: (no average)?`, "g")),
  ];
  return Object.fromEntries(
    starts.map((start, place) => {
      const said = text.slice(start.index + start[0].length, starts[place + 1]?.index);
      const end = said.indexOf("on average");
      const none = start[2] !== undefined;
      return [
        start[1] ?? "",
        {
          average: [
            ...(none ? ["none"] : []),
            ...digitsOf(none || end < 0 ? said : said.slice(0, end)),
          ],
          beside: none || end < 0 ? [] : digitsOf(said.slice(end)),
        },
      ];
    }),
  );
};

/** Rows of the table of averages, by the name of the group. */
export const averageRowsIn = ({ tables }: Said): Readonly<Record<string, readonly string[]>> =>
  Object.fromEntries(
    Object.entries(tables)
      .filter(([title]) => /(?:^|: )Pooled effects/.test(title))
      .flatMap(([, rows]) => rows.map(([name = "", ...cells]) => [name, cells] as const)),
  );
