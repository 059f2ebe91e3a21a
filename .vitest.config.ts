import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    // .mutate.mjs runs the tests of one room
    include: [`${process.env.HOLDBOOK_TESTS ?? "tests"}/**/*.test.ts`],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    restoreMocks: true,
    maxWorkers: 2,
  },
});
