// Which field a roster's column holds, and in which unit its numbers are.

export interface RosterColumn {
  readonly index: number;
  readonly header: string;
  readonly field:
    | "name"
    | "initials"
    | "heightM"
    | "legLengthM"
    | "massKg"
    | "history"
    | "goalSpm"
    | "remote"
    | "notes"
    | "ignore";
  readonly unit: string | null;
}

const patterns: readonly (readonly [RegExp, RosterColumn["field"]])[] = [
  [/^(full |runner'?s? )?name$|^runner$/, "name"],
  [/^initials?$/, "initials"],
  [/^leg( length)?$/, "legLengthM"],
  [/^height$|^tall$/, "heightM"],
  [/^mass$|^weight$/, "massKg"],
  [/^history$|^injur(y|ies)( history)?$/, "history"],
  [/^goal$|^goal (cadence|step rate)$/, "goalSpm"],
  [/^remote$/, "remote"],
  [/^notes?$|^remarks?$/, "notes"],
];

/** From the header alone: its words before a bracket name the field, the bracket names the unit. */
export function guessColumn(header: string, index: number): RosterColumn {
  const [, words = "", bracket] = /^([^([]*)(?:[([]([^)\]]*)[)\]])?/.exec(header.trim()) ?? [];
  const plain = words
    .trim()
    .toLowerCase()
    .replaceAll(/[_\s]+/g, " ");
  const [, stem = plain, suffix] = /^(.*) (cm|m|kg|lb|spm)$/.exec(plain) ?? [];
  const field = patterns.find(([pattern]) => pattern.test(stem) || pattern.test(plain))?.[1] ?? "ignore";
  const unit = (bracket ?? suffix ?? "").trim().toLowerCase();
  return { index, header: header.trim(), field, unit: unit === "" ? null : unit };
}

const historyWords: Readonly<Record<string, "bone" | "achilles" | "calf" | "none">> = {
  bone: "bone",
  stress: "bone",
  fracture: "bone",
  achilles: "achilles",
  calf: "calf",
  none: "none",
  no: "none",
  "-": "none",
};

/** Words between spaces, commas, semicolons or slashes; undefined when one is not known. */
export function readHistory(text: string): string[] | undefined {
  const words = text
    .toLowerCase()
    .split(/[\s,;/+]+/)
    .filter((word) => word !== "");
  const known = words.map((word) => historyWords[word]);
  if (known.includes(undefined)) return undefined;
  return [...new Set(known.filter((word) => word !== undefined))];
}

const CM_PER_M = 100;
/** Exact by definition (1959 agreement). */
const KG_PER_POUND = 0.453_592_37;

/** A number in SI with the range it must lie in. Heights above 3 without a unit are centimetres: nobody is 3 m tall. */
export function readNumber(
  column: RosterColumn,
  text: string,
): { readonly value: number | undefined; readonly low: number; readonly high: number; readonly unit: string } {
  const cleaned = text
    .replace(/\s*(cm|m|kg|lbs?|spm)$/i, "")
    .replace(",", ".")
    .trim();
  const raw = /^\d+(\.\d+)?$/.test(cleaned) ? Number(cleaned) : undefined;
  const unit = (/(cm|m|kg|lbs?|spm)$/i.exec(text.trim())?.[1] ?? column.unit ?? "").toLowerCase();
  switch (column.field) {
    case "heightM":
    case "legLengthM": {
      const inCm = unit.startsWith("cm") || (unit === "" && raw !== undefined && raw > 3);
      const value = raw === undefined ? undefined : inCm ? raw / CM_PER_M : raw;
      return column.field === "heightM"
        ? { value, low: 0.9, high: 2.5, unit: "m" }
        : { value, low: 0.4, high: 1.5, unit: "m" };
    }
    case "massKg":
      return {
        value: raw !== undefined && unit.startsWith("lb") ? raw * KG_PER_POUND : raw,
        low: 20,
        high: 250,
        unit: "kg",
      };
    case "name":
    case "initials":
    case "history":
    case "remote":
    case "notes":
    case "ignore":
    case "goalSpm":
      return { value: raw, low: 120, high: 220, unit: "spm of both feet" };
  }
}
