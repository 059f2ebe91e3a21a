import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // .mutate.mjs runs the tests of one room
    include: [`${process.env.HOLDBOOK_TESTS ?? "tests"}/**/*.test.ts`],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    restoreMocks: true,
    maxWorkers: 2,
    // Half of a run was loading the same modules for each file anew. The library keeps no state that a
    // file could leave behind; what tests share (R, a browser) is started once in each worker.
    isolate: false,
    setupFiles: ["tests/before-each-file.ts"],
  },
});
