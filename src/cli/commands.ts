// Every command, in the order of the coach's work.
import type { Command } from "./command.ts";
import { beatCommand } from "./commands/beat.ts";
import { countCommand } from "./commands/count.ts";
import { lanesCommand } from "./commands/lanes.ts";
import { proposeCommand } from "./commands/propose.ts";

export const commands: readonly Command[] = [countCommand, proposeCommand, beatCommand, lanesCommand];
