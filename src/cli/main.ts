// The program behind the `spondee` command.
import { commands } from "./commands.ts";
import { realOutside } from "./outside.ts";
import { runCommandLine } from "./run-command.ts";

const { exitCode, stdout } = await runCommandLine(process.argv.slice(2), commands, realOutside);
process.exitCode = exitCode;
// Waits for a slow pipe; a reader that left early (EPIPE) is no error of ours.
process.stdout.on("error", () => {});
process.stdout.write(stdout);
