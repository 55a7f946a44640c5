// Every command, in the order of the coach's work.
import type { Command } from "./command.ts";
import { beatCommand } from "./commands/beat.ts";
import { compareCommand } from "./commands/compare.ts";
import { countCommand } from "./commands/count.ts";
import { backupCommand, checkDataCommand, demoCommand, moveCommand, restoreCommand } from "./commands/data.ts";
import { lanesCommand } from "./commands/lanes.ts";
import { planCommand } from "./commands/plan.ts";
import { proposeCommand } from "./commands/propose.ts";
import { readCommand } from "./commands/read.ts";
import { serveCommand } from "./commands/serve.ts";

export const commands: readonly Command[] = [
  countCommand,
  readCommand,
  proposeCommand,
  planCommand,
  beatCommand,
  lanesCommand,
  compareCommand,
  serveCommand,
  demoCommand,
  backupCommand,
  restoreCommand,
  checkDataCommand,
  moveCommand,
];
