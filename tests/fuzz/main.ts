/** `npm run fuzz`: every kind of case, or those whose name holds the first word; from the seed and as many as the others say. */
import { tableToText } from "../../src/tables/table-to-text.js";
import { plainTable } from "../../src/tables/table.js";
import { counted, endings, kinds, type Counted, type Kind } from "./fuzz.js";

const [only = "", from = "0", cases] = process.argv.slice(2);
const results: Counted[] = [];
for (const kind of Object.keys(kinds) as Kind[])
  if (kind.includes(only))
    results.push(
      await counted(kind, Number(cases ?? kinds[kind].full), Number(from), (line) => {
        process.stderr.write(`${line}\n`);
      }),
    );
const columns = ["cases", ...endings, "wrong"];
process.stdout.write(
  `${tableToText(
    plainTable(
      "fuzz",
      columns,
      results.map(({ kind, counts, wrong }) => [
        kind,
        ...endings.map((ending) => String(counts[ending])),
        String(wrong.length),
      ]),
    ),
    { width: 100 },
  )}\n`,
);
process.exitCode = results.some(({ wrong }) => wrong.length > 0) ? 1 : 0;
