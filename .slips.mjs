// `npm run slips` types every slip at every row, arm and study of the files in data/ and prints how many the reader
// notices. `npm run slips -- "hold ×10"` tries one kind.
import { runBundled } from "./.run-bundled.mjs";

await runBundled("slips");
