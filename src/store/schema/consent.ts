// Every time consent was given or withdrawn; the latest counts.
export interface ConsentTable {
  id: string;
  runnerId: string;
  given: number;
  textVersion: string;
  location: number;
  at: string;
}
