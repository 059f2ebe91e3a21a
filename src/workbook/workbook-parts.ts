/** A workbook's own list of sheets, and the parts of its package that they need. */
import { unzipSync } from "fflate";
import { numberMeaning, type NumberMeaning } from "./number-format.js";
import { isTrue, sharedStrings, sheetCells, type SheetCells } from "./sheet-cells.js";
import { walkXml } from "./walk-xml.js";

/** A sheet that holds cells. */
export type WorkbookSheet = Readonly<{ name: string; hidden: boolean; part: string }>;

/** More than this is unpacked for no workbook, bytes. */
const mostUnpacked = 100_000_000;

/** What a package holds that is no workbook of this form. */
export type Unpacked =
  | Readonly<{
      kind: "workbook";
      sheets: readonly WorkbookSheet[];
      cells: (sheet: WorkbookSheet) => SheetCells;
    }>
  | Readonly<{ kind: "other"; names: readonly string[] }>;

/** The package would unpack to more than is sensible. */
export class TooLarge extends Error {}

type Relation = Readonly<{ id: string; kind: string; part: string }>;

/** The relations of a part; targets are named from the folder the part stands in, or from the root. */
const relations = (xml: string, folder: string): readonly Relation[] => {
  const found: Relation[] = [];
  walkXml(xml, {
    opens: (name, attribute) => {
      if (name !== "Relationship") return;
      const target = attribute("Target") ?? "";
      found.push({
        id: attribute("Id") ?? "",
        kind: (attribute("Type") ?? "").replace(/^.*\//, ""),
        part: target.startsWith("/")
          ? target.slice(1)
          : `${folder}${target}`.replace(/[^/]+\/\.\.\//g, ""),
      });
    },
  });
  return found;
};

/** What the numbers of each cell style mean. */
const styleMeanings = (xml: string): readonly NumberMeaning[] => {
  const codes = new Map<number, string>();
  const meanings: NumberMeaning[] = [];
  let ofCells = false;
  walkXml(xml, {
    opens: (name, attribute) => {
      if (name === "cellXfs") ofCells = true;
      else if (name === "numFmt")
        codes.set(Number(attribute("numFmtId")), attribute("formatCode") ?? "");
      else if (name === "xf" && ofCells) {
        const id = Number(attribute("numFmtId") ?? 0);
        meanings.push(numberMeaning(id, codes.get(id)));
      }
    },
    closes: (name) => {
      if (name === "cellXfs") ofCells = false;
    },
  });
  return meanings;
};

/**
 * The sheets of a packed workbook; their cells are unpacked when they are asked for.
 *
 * @throws {TooLarge}, {Error} where the package is damaged
 * @source ISO/IEC 29500-1:2016, 12 (packages of spreadsheets)
 */
export const unpackedWorkbook = (bytes: Uint8Array): Unpacked => {
  let unpacked = 0;
  const take = (wanted: (name: string) => boolean): ReadonlyMap<string, string> => {
    const files = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (!wanted(name)) return false;
        unpacked += originalSize;
        if (unpacked > mostUnpacked) throw new TooLarge();
        return true;
      },
    });
    const decoder = new TextDecoder("utf-8");
    return new Map(
      Object.entries(files).map(([name, file]) => [
        name,
        // Some programs write UTF-16, marked at its start.
        file[0] === 0xff && file[1] === 0xfe
          ? new TextDecoder("utf-16le").decode(file)
          : decoder.decode(file),
      ]),
    );
  };
  const names: string[] = [];
  const root = take((name) => {
    names.push(name);
    return name === "_rels/.rels";
  }).get("_rels/.rels");
  const book =
    root === undefined
      ? undefined
      : relations(root, "").find(({ kind }) => kind === "officeDocument")?.part;
  if (book === undefined || !/\.xml$/i.test(book) || !/(?:^|\/)workbook[^/]*$/i.test(book))
    return { kind: "other", names };
  const folder = book.replace(/[^/]*$/, "");
  const listed = `${folder}_rels/${book.slice(folder.length)}.rels`;
  const parts = take((name) => name === book || name === listed);
  const related = relations(parts.get(listed) ?? "", folder);
  const partOf = (kind: string) => related.find((each) => each.kind === kind)?.part;
  const sheets: WorkbookSheet[] = [];
  let from1904 = false;
  walkXml(parts.get(book) ?? "", {
    opens: (name, attribute) => {
      if (name === "workbookPr") from1904 = isTrue(attribute("date1904"));
      if (name !== "sheet") return;
      const relation = related.find(({ id }) => id === attribute("id"));
      if (relation?.kind !== "worksheet") return;
      sheets.push({
        name: attribute("name") ?? "",
        hidden: (attribute("state") ?? "visible") !== "visible",
        part: relation.part,
      });
    },
  });
  return {
    kind: "workbook",
    sheets,
    cells: ({ part }) => {
      const stringsPart = partOf("sharedStrings");
      const stylesPart = partOf("styles");
      const own = take((name) => name === part || name === stringsPart || name === stylesPart);
      const strings = own.get(stringsPart ?? "");
      const styles = own.get(stylesPart ?? "");
      return sheetCells(own.get(part) ?? "", {
        strings: strings === undefined ? [] : sharedStrings(strings),
        meanings: styles === undefined ? [] : styleMeanings(styles),
        from1904,
      });
    },
  };
};
