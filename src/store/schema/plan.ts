// The runner's plan as it stands. id is the runner's.
export interface PlanTable {
  id: string;
  runnerId: string;
  planJson: string;
  currentStageIndex: number;
  stageCount: number;
  /** Step rate of the current stage, both feet. */
  currentSpm: number;
  stopped: number;
  edited: number;
  updatedAt: string;
}
