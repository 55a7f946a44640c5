// What has to be asked from within a tap before a run: the sensor, the sound.
import { askForMotion, type MotionPermission } from "../../ui/motion/motion-source.ts";
import { startAudio } from "../app/audio.ts";
import { readAbilities } from "../app/abilities.ts";

export type Sensors = MotionPermission | "insecure";

/** Asks for the sensor first: some phones forget the tap while something else is awaited. */
export async function prepareRun(): Promise<Sensors> {
  const abilities = readAbilities();
  const motion = abilities.secure ? await askForMotion() : "insecure";
  await startAudio().catch(() => undefined);
  return motion;
}
