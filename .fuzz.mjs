// Damaged files, written protocols and command lines by the thousand, each by its seed: `npm run fuzz`.
// `npm run fuzz -- files 1234 1` runs the damaged file of one seed.
import { runBundled } from "./.run-bundled.mjs";

await runBundled("fuzz");
