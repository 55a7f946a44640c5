// id is "runnerId/date".
export interface AttendanceTable {
  id: string;
  groupId: string;
  runnerId: string;
  onDate: string;
  presence: "present" | "absent" | "excused";
}
