// The last line of a test run, in one plain form that any machine can read.
import type { Reporter, TestModule } from "vitest/node";

export default class SummaryReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], unhandledErrors: readonly unknown[]): void {
    const count = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
    for (const module of modules) {
      let tests = 0;
      for (const test of module.children.allTests()) {
        tests += 1;
        const state = test.result().state;
        if (state === "passed" || state === "failed" || state === "skipped") count[state] += 1;
      }
      // A file that fails before its tests are collected is a failure too.
      if (tests === 0 && module.state() === "failed") count.failed += 1;
    }
    // Printed after the other reporters' own summaries.
    process.once("exit", () => {
      process.stdout.write(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`);
    });
  }
}
