// Heights as coaches write them: centimetres, or feet and inches.
import { METRES_PER_FOOT, metresToInches } from "../../engine/quantities/units.ts";

export function heightText(heightM: number | null, unit: "cm" | "ft-in"): string {
  if (heightM === null) return "";
  if (unit === "cm") return String(Math.round(heightM * 100));
  const inches = Math.round(metresToInches(heightM));
  return `${Math.floor(inches / 12)}'${inches % 12}"`;
}

/** "172", "1.72" or "1,72" as centimetres or metres; "5 9", "5'9" or "5'9\"" as feet and inches. Undefined when unreadable. */
export function parseHeight(text: string, unit: "cm" | "ft-in"): number | undefined {
  const trimmed = text.trim();
  if (unit === "ft-in") {
    const match = /^(\d)\s*(?:'|ft|\s)\s*(\d{1,2}(?:[.,]\d+)?)?\s*(?:"|in)?$/.exec(trimmed);
    if (!match) return undefined;
    return (Number(match[1]) + Number((match[2] ?? "0").replace(",", ".")) / 12) * METRES_PER_FOOT;
  }
  if (!/^\d+([.,]\d+)?$/.test(trimmed)) return undefined;
  const value = Number(trimmed.replace(",", "."));
  // Nobody is 3 cm or 3 m tall: a small number was meant in metres.
  return value < 3 ? value : value / 100;
}
