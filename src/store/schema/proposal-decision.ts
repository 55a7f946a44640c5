// What the coach accepted. id is the runner's.
export interface ProposalDecisionTable {
  id: string;
  runnerId: string;
  advice: "leave-alone" | "change" | "refer";
  targetSpm: number | null;
  changedByCoach: number;
  reason: string;
  proposalJson: string;
  at: string;
  byAccountId: string | null;
  byName: string;
}
