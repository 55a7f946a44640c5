import { describe, expect, test } from "vitest";
import { runCli } from "../../tests/run-cli.ts";
import { commands } from "./commands.ts";

describe("every command", () => {
  test.each(commands.map(({ name }) => name))("%s --help tells its options on stdout and ends with 0", async (name) => {
    const run = await runCli([name, "--help"]);
    expect(run).toMatchObject({ exitCode: 0, stderr: "" });
    const command = commands.find((candidate) => candidate.name === name)!;
    for (const option of Object.keys(command.options)) expect(run.stdout).toContain(`--${option}`);
    expect(run.stdout).toContain("--json");
  });

  test.each(commands.map(({ name }) => name))(
    "%s refuses an unknown option with 2 and keeps stdout clean",
    async (name) => {
      const run = await runCli([name, "--json", "--no-such-option"]);
      expect(run).toMatchObject({ exitCode: 2, stdout: "" });
      expect(run.stderr).toContain("--no-such-option");
    },
  );
});

test("no words and --help list every command", async () => {
  for (const words of [[], ["--help"]]) {
    const run = await runCli(words);
    expect(run.exitCode).toBe(0);
    for (const { name } of commands) expect(run.stdout).toContain(name);
  }
});

test("an unknown command ends with 2 and names those there are", async () => {
  const run = await runCli(["jog"]);
  expect(run).toMatchObject({ exitCode: 2, stdout: "" });
  expect(run.stderr).toContain("count");
});
