// Every command, in the order of the coach's work.
import type { Command } from "./command.ts";
import { countCommand } from "./commands/count.ts";

export const commands: readonly Command[] = [countCommand];
