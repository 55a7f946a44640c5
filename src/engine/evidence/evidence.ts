// The shape of a constant that shapes advice. Each lives in one topic file of this folder, with its source.

export type EvidenceKind =
  /** Read in the source's own page, abstract or table. */
  | "published"
  /** Read in another work or record that reports the source, not in the source itself. */
  | "second-hand"
  /** A formal standard. */
  | "standard"
  /** Derived by arithmetic from published values; the note shows the inputs. */
  | "derived"
  /** A fact of the trade: common practice, no source. */
  | "common-practice"
  /** Remembered; nobody on the project opened the paper. */
  | "from-memory"
  /** Our own caution or choice. */
  | "ours";

export interface Source {
  readonly authors: string;
  readonly year: number;
  readonly title: string;
  /** Absent: read on the source. "memory": nobody here read the title. "description": our own words where no title was noted. */
  readonly titleFrom?: "memory" | "description";
  readonly doi?: string;
  /** Page, table, section or abstract. */
  readonly where: string;
}

export interface Evidence<Value = number> {
  /** Stable, kebab-case, unique over the whole project. */
  readonly id: string;
  readonly value: Value;
  /** "spm", "ratio", "m/s", "1" … */
  readonly unit: string;
  readonly range?: readonly [number, number];
  readonly kind: EvidenceKind;
  /** Absent only for common-practice and ours. */
  readonly source?: Source;
  /** One plain sentence for a coach: what it says and how far to trust it. */
  readonly note: string;
}

export function evidence<const Value>(entry: Evidence<Value>): Evidence<Value> {
  return entry;
}

/** The title as it is shown: a remembered one says so, and a description is not dressed as a title. */
export function titleShown(source: Pick<Source, "title" | "titleFrom">): string {
  if (source.titleFrom === "memory") return `${source.title} (title from memory)`;
  return source.titleFrom === "description" ? `${source.title} (our description; title not noted)` : source.title;
}
