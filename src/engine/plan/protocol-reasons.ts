// What a coach must know about a published protocol before using it.
import type { EvidenceKind } from "../evidence/evidence.ts";
import { percent, type Reason } from "../target/reason.ts";
import type { Protocol, Stated } from "./protocol.ts";

/** Ids of protocols among the sources of a reason begin with this. */
export const protocolSourcePrefix = "protocol:";

const kindWords: Partial<Record<EvidenceKind, string>> = {
  "from-memory": "from memory",
  ours: "ours",
  "second-hand": "second hand",
  derived: "derived",
};

/** P12: which study, what it trained, and every parameter that the paper does not state. */
export function protocolReasons(protocol: Protocol): Reason[] {
  const { riseShare, result, source } = protocol;
  const sources = [`${protocolSourcePrefix}${protocol.id}`];
  const parameters: readonly (readonly [string, Stated<unknown>])[] = [
    ["the rise", protocol.riseShare],
    ["the weeks", protocol.weeks],
    ["the number of sessions", protocol.sessionCount],
    ["the minutes", protocol.minutes],
    ["the cue", protocol.cue],
    ["the fading", protocol.cueSchedule],
  ];
  const filled = parameters.flatMap(([name, stated]) =>
    kindWords[stated.kind] === undefined ? [] : [`${name} (${kindWords[stated.kind]})`],
  );
  const reasons: Reason[] = [
    {
      rule: "P12",
      text: `After ${source.authors} ${source.year}: ${protocol.trained}. ${riseShare.value === null ? "Not a step-rate study: only its schedule is used, towards this runner's own aim." : `${percent(riseShare.value)} above the runner's own step rate at once, without small stages.`}`,
      sources,
    },
    { rule: "P12", text: `What came of it there: ${result.value}. A study's result is no promise.`, sources },
  ];
  if (filled.length > 0)
    reasons.push({ rule: "P12", text: `Not stated in what was read: ${filled.join(", ")}.`, sources });
  return reasons;
}
