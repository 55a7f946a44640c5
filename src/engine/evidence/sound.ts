// What footfall sound can and cannot say.
import { type Evidence, evidence } from "./evidence.ts";

export const soundIsNotLoad = evidence({
  id: "sound-is-not-load",
  value: 0,
  unit: "1",
  kind: "published",
  source: {
    authors: "Phan and others",
    year: 2017,
    title: "Journal of Sports Sciences study of footfall sound and ground reaction force, 26 men",
    titleFrom: "description",
    where: "abstract: peak sound not related to vertical force, nor to loading rate in the quiet condition",
  },
  note: "Loudness is only compared with itself, and it is no measure of impact: in a study of 26 men footfall sound did not follow the force on the leg, although asking for quiet steps lowered both.",
});

export const machineBeatSpreadS = evidence({
  id: "machine-beat-spread",
  value: 0.0012,
  unit: "s",
  kind: "ours",
  note: "No runner's steps keep to an even grid within a thousandth of a second over ten seconds; what does is a machine: a metronome or recorded music.",
});

export const machineContactSpreadS = evidence({
  id: "machine-contact-spread",
  value: 0.003,
  unit: "s",
  kind: "ours",
  note: "Steps vary by about 2 %, that is 7 thousandths of a second; contacts within 3 thousandths of an even grid are no runner's.",
});

export const machineContactSpreadWhenHeardS = evidence({
  id: "machine-contact-spread-when-heard",
  value: 0.005,
  unit: "s",
  kind: "ours",
  note: "The same limit where a metronome or music is heard anyway: a little wider, since other sounds blur the clicks.",
});

export const soundEvidence: readonly Evidence<unknown>[] = [
  soundIsNotLoad,
  machineBeatSpreadS,
  machineContactSpreadS,
  machineContactSpreadWhenHeardS,
];
