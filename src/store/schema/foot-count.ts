// A count as it was typed; what it says is computed by the engine and kept beside it.
export interface FootCountTable {
  id: string;
  runnerId: string;
  way: "contacts-in-time" | "time-of-contacts";
  contacts: number;
  seconds: number;
  feet: "one" | "both";
  firstContact: "zero" | "one" | "unknown";
  lapLengthM: number | null;
  lapTimeS: number | null;
  speedMps: number | null;
  surface: "outdoor" | "treadmill" | "unknown";
  cue: "on" | "off" | null;
  purpose: "baseline" | "check";
  measuredAt: string;
  note: string;
  confirmed: number;
  enteredBy: "coach" | "runner";
}
