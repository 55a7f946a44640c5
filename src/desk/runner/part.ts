import type { Runner } from "../../api/index.ts";
import type { Format } from "../../ui/words/format.ts";

/** What every section of a runner's page is given. */
export interface RunnerPart {
  readonly groupId: string;
  readonly runner: Runner;
  readonly format: Format;
}
