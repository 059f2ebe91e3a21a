import { readProject } from "./source-tree.js";

/** What DEVELOPERS.md says of one room. */
export type Room = Readonly<{
  room: string;
  /** Rooms whose values it may take. */
  valuesFrom: readonly string[];
  /** Rooms it may take types from. */
  typesFrom: readonly string[];
  /** Packages; "node" stands for Node's own modules; those marked (types) only for their types. */
  packages: readonly string[];
  typePackages: readonly string[];
  pure: "compiler" | "test" | "no";
}>;

const list = (cell: string): readonly string[] =>
  cell === "–" ? [] : cell.split(",").map((word) => word.trim());

/** The room table of DEVELOPERS.md, the one place where the law of imports is written. */
export const roomTable = (): readonly Room[] => {
  const text = readProject("DEVELOPERS.md");
  const inside = /<!-- rooms -->\n([\s\S]*?)<!-- \/rooms -->/.exec(text)?.[1];
  if (inside === undefined) throw new Error("DEVELOPERS.md has no room table");
  const lines = inside.trim().split("\n").slice(2);
  return lines.map((line) => {
    const [room = "", , values = "", types = "", packages = "", pure = ""] = line
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim());
    if (pure !== "compiler" && pure !== "test" && pure !== "no")
      throw new Error(`room table: purity of ${room} is "${pure}"`);
    const allPackages = list(packages);
    return {
      room: room.replaceAll("`", ""),
      valuesFrom: list(values),
      typesFrom: list(types),
      packages: allPackages.filter((name) => !name.endsWith("(types)")),
      typePackages: allPackages.map((name) => name.replace(" (types)", "")),
      pure,
    };
  });
};
