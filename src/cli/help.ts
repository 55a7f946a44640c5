// Help made from the same data that parses the words.
import type { Command } from "./command.ts";

export function programHelp(commands: readonly Command[]): string {
  const width = Math.max(...commands.map(({ name }) => name.length));
  return [
    "spondee: measure, judge, plan, run and prove a change of running cadence",
    "",
    "  spondee COMMAND [words] [--json]     spondee COMMAND --help",
    "",
    ...commands.map(({ name, summary }) => `  ${name.padEnd(width)}  ${summary}`),
    "",
    "With --json only JSON goes to stdout; messages go to stderr.",
    "Exit code: 0 fine, 1 a fault of the program, 2 wrong usage, 3 unreadable or unsuitable input.",
    "Step rates are steps per minute of both feet (spm) unless an option says otherwise.",
    "",
  ].join("\n");
}

export function commandHelp(command: Command): string {
  const rows = [
    ...Object.entries(command.options).map(([name, spec]): [string, string] => [
      `--${name}${spec.value === undefined ? "" : ` ${spec.value}${spec.takesSeveral === true ? "…" : ""}`}`,
      `${spec.help}${spec.repeat === true ? " (may be repeated)" : ""}`,
    ]),
    ["--json", "JSON on stdout, nothing else there"] as [string, string],
  ];
  const width = Math.max(...rows.map(([name]) => name.length));
  return [
    `spondee ${command.name}: ${command.summary}`,
    "",
    `  spondee ${command.name} ${command.usage}`,
    "",
    ...rows.map(([name, help]) => `  ${name.padEnd(width)}  ${help}`),
    ...(command.notes === undefined ? [] : ["", command.notes]),
    "",
  ].join("\n");
}
