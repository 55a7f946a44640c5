// From the source id beside a reason to what it says and where it was read.
import { allEvidence } from "../evidence/all.ts";
import type { EvidenceKind, Source } from "../evidence/evidence.ts";
import { findProtocol } from "./all-protocols.ts";
import { protocolSourcePrefix } from "./protocol-reasons.ts";

export interface FoundSource {
  readonly id: string;
  readonly kind: EvidenceKind;
  readonly note: string;
  readonly source?: Source;
}

/** Absent when nothing has that id. */
export function findSource(id: string): FoundSource | undefined {
  if (id.startsWith(protocolSourcePrefix)) {
    const protocol = findProtocol(id.slice(protocolSourcePrefix.length));
    return protocol && { id, kind: protocol.result.kind, note: protocol.title, source: protocol.source };
  }
  const entry = allEvidence.find((candidate) => candidate.id === id);
  return (
    entry && { id, kind: entry.kind, note: entry.note, ...(entry.source === undefined ? {} : { source: entry.source }) }
  );
}
