// The coach's decision for a runner and a week. id is "runnerId/weekStartsOn": one decision a week.
export interface DecisionTable {
  id: string;
  /** As the client named it. */
  clientId: string;
  groupId: string;
  runnerId: string;
  weekStartsOn: string;
  decision: "move-on" | "stay" | "ease-back" | "stop-and-refer";
  proposed: "move-on" | "stay" | "ease-back" | "stop-and-refer" | null;
  rule: string | null;
  overruled: number;
  reason: string;
  at: string;
  byAccountId: string | null;
  byName: string;
}
