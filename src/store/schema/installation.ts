// One row per fact about this installation, as "demo was seeded".
export interface InstallationTable {
  name: string;
  value: string;
}
