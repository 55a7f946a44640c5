import { Type } from "typebox";
import { Id, PlainDate } from "../schemas/common.ts";

export const GroupParams = Type.Object({ groupId: Id });
export const RunnerParams = Type.Object({ runnerId: Id });
export const CountParams = Type.Object({ runnerId: Id, countId: Id });
export const RecordingParams = Type.Object({ runnerId: Id, recordingId: Id });
export const EntryParams = Type.Object({ runnerId: Id, entryId: Id });
export const LinkParams = Type.Object({ runnerId: Id, linkId: Id });
export const ChangeParams = Type.Object({ groupId: Id, changeId: Id });
export const EveningParams = Type.Object({ groupId: Id, on: PlainDate });
export const MemberParams = Type.Object({ groupId: Id, accountId: Id });
export const AccountParams = Type.Object({ accountId: Id });
export const OwnRecordingParams = Type.Object({ recordingId: Id });
export const OwnPartParams = Type.Object({
  recordingId: Id,
  startByte: Type.Integer({ minimum: 0, description: "Where in the file this part begins." }),
});
export const OwnCountParams = Type.Object({ countId: Id });
export const OwnEntryParams = Type.Object({ entryId: Id });

export const Empty = Type.Object({});
/** A file. */
export const Bytes = Type.Unsafe<FileBody>({ type: "string", format: "binary" });
/** What the client hands back for a file; the browser's Blob. */
export interface FileBody {
  readonly size: number;
  readonly type: string;
  arrayBuffer(): Promise<ArrayBuffer>;
}
