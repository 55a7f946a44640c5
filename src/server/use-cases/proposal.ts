// What the rules propose for a runner, and what the coach made of it.
import type { Proposal as ProposalShape, ProposalAnswer, Reason as ReasonShape } from "../../api/index.ts";
import { titleShown } from "../../engine/evidence/evidence.ts";
import { findSource } from "../../engine/plan/find-source.ts";
import type { Proposal } from "../../engine/target/proposal.ts";
import { proposeChange } from "../../engine/target/propose.ts";
import type { Reason } from "../../engine/target/reason.ts";
import type { RedFlag } from "../../engine/target/red-flags.ts";
import { GroupReader, type Reading, RunnerReader, type RunnerRow } from "../../store/index.ts";
import type { RunnerState } from "../analysis/runner-state.ts";
import { json } from "./present.ts";
import { recentPain } from "./recent-pain.ts";
import { adviceSettings, readSettings } from "./settings.ts";

export interface ProposalSource {
  readonly runner: RunnerRow;
  readonly state: Pick<RunnerState, "baseline" | "speedExponent">;
  readonly settingsJson: string;
  readonly painNow?: number;
  readonly redFlags: readonly RedFlag[];
}

export async function proposalSource(
  db: Reading,
  runner: RunnerRow,
  state: ProposalSource["state"],
  nowMs: number,
): Promise<ProposalSource> {
  const [source] = await proposalSources(db, runner.groupId, [{ runner, state }], nowMs);
  if (source === undefined) throw new TypeError("proposalSource: one runner must give one source");
  return source;
}

/** The same for several runners of one group, in two queries. */
export async function proposalSources(
  db: Reading,
  groupId: string,
  runners: readonly Pick<ProposalSource, "runner" | "state">[],
  nowMs: number,
): Promise<readonly ProposalSource[]> {
  const ids = runners.map(({ runner }) => runner.id);
  const pains = await recentPain(db, ids, { now: () => new Date(nowMs) });
  const group = await new GroupReader(db).row(groupId);
  return runners.map(({ runner, state }) => {
    const own = pains.get(runner.id) ?? [];
    return {
      runner,
      state,
      settingsJson: group?.settingsJson ?? "{}",
      ...(own.length === 0 ? {} : { painNow: Math.max(...own.map((row) => row.score)) }),
      redFlags: [...new Set(own.flatMap((row) => json<RedFlag[]>(row.signsJson)))],
    };
  });
}

export function propose(
  source: ProposalSource,
  own: { readonly goalSpm?: number; readonly painNow?: number } = {},
): Proposal {
  const { runner, state } = source;
  const goal = own.goalSpm ?? runner.goalSpm ?? undefined;
  const pain = own.painNow ?? source.painNow;
  const { baseline } = state;
  return proposeChange({
    baseline:
      baseline.kind === "not-enough"
        ? baseline
        : {
            stepRateSpm: baseline.stepRateSpm,
            surface: baseline.surface,
            ...(baseline.speedMps === null ? {} : { speedMps: baseline.speedMps }),
          },
    history: json(runner.historyJson),
    redFlags: source.redFlags,
    settings: adviceSettings(readSettings(source.settingsJson)),
    ...(runner.heightM === null ? {} : { heightM: runner.heightM }),
    ...(runner.legLengthM === null ? {} : { legLengthM: runner.legLengthM }),
    ...(pain === undefined ? {} : { painNow0to10: pain }),
    ...(goal === undefined ? {} : { coachGoalSpm: goal }),
    ...(state.speedExponent === null ? {} : { speedExponent: state.speedExponent }),
  });
}

export async function proposalAnswer(db: Reading, source: ProposalSource): Promise<ProposalAnswer> {
  const computed = propose(source);
  const row = await new RunnerReader(db).accepted(source.runner.id);
  if (row === undefined) return { computed: presentProposal(computed), accepted: null, outOfDate: false };
  const proposal = json<Proposal>(row.proposalJson);
  return {
    computed: presentProposal(computed),
    accepted: {
      advice: row.advice,
      targetSpm: row.targetSpm,
      changedByCoach: row.changedByCoach === 1,
      reason: row.reason,
      at: row.at,
      byName: row.byName,
      proposal: presentProposal(proposal),
    },
    outOfDate: row.changedByCoach === 0 && differs(computed, proposal),
  };
}

/** Another advice, or an aim that moved by half a step a minute or more. */
function differs(a: Proposal, b: Proposal): boolean {
  return a.advice !== b.advice || Math.abs((a.aimSpm ?? 0) - (b.aimSpm ?? 0)) >= 0.5;
}

function presentProposal(proposal: Proposal): ProposalShape {
  return {
    kind: "proposal",
    advice: proposal.advice,
    baselineSpm: proposal.baselineSpm,
    speedMps: proposal.speedMps,
    targetSpm: proposal.targetSpm === null ? null : { ...proposal.targetSpm },
    aimSpm: proposal.aimSpm,
    careful: proposal.careful,
    capSpm: proposal.capSpm,
    stagesSpm: [...proposal.stages],
    paceTable: proposal.paceTable.map((row) => ({ ...row })),
    reasons: proposal.reasons.map(presentReason),
    cautions: [...proposal.cautions],
  };
}

export function presentReason(entry: Reason): ReasonShape {
  return {
    rule: entry.rule,
    text: entry.text,
    sources: entry.sources.flatMap((id) => {
      const found = findSource(id);
      if (found === undefined) return [];
      const { source } = found;
      return [
        {
          id,
          kind: found.kind,
          authors: source?.authors ?? null,
          year: source?.year ?? null,
          title: source === undefined ? null : titleShown(source),
          doi: source?.doi ?? null,
          note: found.note,
        },
      ];
    }),
  };
}
