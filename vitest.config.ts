import { defineConfig } from "vitest/config";

const browser = ["e2e/**/*.test.ts"];
/** Tests that watch a clock or kill processes have the machine to themselves, one file after the other, after all others. */
const alone = [
  "e2e/pocket-beat.test.ts",
  "e2e/pocket-motion.test.ts",
  "src/server/durability.test.ts",
  "src/server/several-processes.test.ts",
];

export default defineConfig({
  test: {
    reporters: ["default", "./scripts/summary-reporter.ts"],
    globalSetup: ["./tests/global-setup.ts"],
    projects: [
      {
        extends: true,
        test: {
          name: "together",
          include: ["src/**/*.test.ts", "src/**/*.test.tsx", "tests/**/*.test.ts"],
          exclude: [...browser, ...alone],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          maxWorkers: 2,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: browser,
          exclude: alone,
          testTimeout: 60_000,
          hookTimeout: 120_000,
          maxWorkers: 2,
          sequence: { groupOrder: 2 },
        },
      },
      {
        extends: true,
        test: {
          name: "alone",
          include: alone,
          testTimeout: 60_000,
          hookTimeout: 120_000,
          // A beat is measured to the millisecond on a machine that others may share: one second chance.
          retry: 1,
          fileParallelism: false,
          maxWorkers: 1,
          sequence: { groupOrder: 3 },
        },
      },
    ],
  },
});
