// Who is coach or assistant of which group. id is "groupId/accountId".
export interface MemberTable {
  id: string;
  groupId: string;
  accountId: string;
  role: "coach" | "assistant";
}
