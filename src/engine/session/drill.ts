// Drills as pieces of their own: a coach's, and a starter set. They are practice, not treatment.
import { type Problem, type Result, succeed } from "../quantities/problem.ts";

export interface Drill {
  readonly id: string;
  readonly name: string;
  readonly howTo: string;
  readonly minutes: number;
  readonly whatToFeel: string;
  readonly cautions: readonly string[];
  /** Done on the spot. */
  readonly standing: boolean;
}

const painCaution = "Stop if anything hurts.";

export const starterDrills: readonly Drill[] = [
  {
    id: "standing-beat",
    name: "Standing beat",
    howTo:
      "Stand tall and step on the spot, one foot on every beat, feet barely off the ground. Once it runs by itself, lean a hand's breadth forward from the ankles and let it carry you into a slow jog.",
    minutes: 2,
    whatToFeel: "The beat is in the feet before you start to think about it.",
    cautions: ["Flat, dry ground.", painCaution],
    standing: true,
  },
  {
    id: "quick-feet",
    name: "Quick feet",
    howTo:
      "Jog forward no faster than a walk and put one small step on every beat. Ten seconds quick, twenty seconds easy, and again.",
    minutes: 1,
    whatToFeel: "Short, light contacts under the body; the speed stays low.",
    cautions: ["Leave it out when calves or Achilles tendons are sore.", painCaution],
    standing: false,
  },
  {
    id: "soft-landing",
    name: "Soft landing",
    howTo:
      "Run easily and listen to your feet. For half a minute make each contact as quiet as you can without going up on your toes, then run on without thinking of it.",
    minutes: 2,
    whatToFeel: "Knees give a little, the foot comes down close beneath you.",
    cautions: ["Do not force a landing on the forefoot: it moves load to calf and Achilles tendon.", painCaution],
    standing: false,
  },
  {
    id: "posture-reset",
    name: "Posture reset",
    howTo:
      "Raise both arms overhead, grow tall, let the arms drop and the shoulders stay low. Look to the end of the road and run on like that for twenty steps. Again every minute.",
    minutes: 1,
    whatToFeel: "Tall, ribs over hips, nothing held tight.",
    cautions: ["Keep an eye on the ground and on traffic.", painCaution],
    standing: false,
  },
  {
    id: "arm-rhythm",
    name: "Arm rhythm",
    howTo:
      "Stand, then jog, with elbows bent and hands loose. Brush each hand past the hip on its beat; let the feet follow the hands.",
    minutes: 1,
    whatToFeel: "The arms keep the time; the legs copy them.",
    cautions: ["Loose shoulders; no crossing in front of the body by force.", painCaution],
    standing: true,
  },
];

/** Checks a coach's own drill; every fault is told. */
export function checkDrill(drill: Drill): Result<Drill> {
  const problems: Problem[] = [];
  const tell = (field: string, got: string, expected: string, remedy: string): void => {
    problems.push({ code: `drill-${field.toLowerCase()}`, where: { field }, got, expected, remedy });
  };
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(drill.id))
    tell("id", drill.id, "small letters, digits and hyphens", "Change the short name.");
  if (drill.name.trim() === "") tell("name", "an empty name", "a name", "Name the drill.");
  if (drill.howTo.trim() === "")
    tell("howTo", "nothing", "how it is done", "Say how it is done, in a sentence or two.");
  if (!(drill.minutes > 0 && drill.minutes <= 30))
    tell("minutes", String(drill.minutes), "above 0, up to 30 minutes", "Change the minutes.");
  if (drill.cautions.length === 0)
    tell("cautions", "none", "at least one caution", "Say when to stop or leave it out.");
  return problems.length > 0 ? { ok: false, problems } : succeed(drill);
}
