// Announcements in words, where the machine has a speech program (Debian's espeak-ng). Without it the tones stay.
import { execFile } from "node:child_process";
import { ANNOUNCEMENT_PEAK, announcementSamples } from "../../engine/beat/announcements.ts";
import { FULL_SCALE } from "../../engine/beat/render.ts";
import { type AnnouncementId } from "../../engine/beat/schedule.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import { type SessionBlock } from "../../engine/session/session.ts";

export interface SpokenSound {
  readonly sampleRateHz: number;
  readonly samples: Int16Array;
}

/** Says a text; rejects when the program fails. */
export type Speaker = (text: string) => Promise<SpokenSound>;

export interface SpokenAnnouncements {
  /** For BeatOptions.announcementLengthsS. */
  readonly lengthsS: readonly number[];
  /** For SoundOptions.announcementSounds. */
  readonly sounds: readonly Int16Array[];
}

const PROGRAM = "espeak-ng";
const LIMIT_MS = 10_000;
const LARGEST_BYTES = 8_000_000;
const WORDS_PER_MINUTE = 150;
const PAUSE_S = 0.15;
/** How far speech is pressed together before it is limited: loud enough between clicks at the announcements' low peak. */
const DRIVE = 3;

/** The machine's speech program, undefined when there is none. */
export async function findSpeaker(): Promise<Speaker | undefined> {
  const present = await run(["--version"], "").then(
    () => true,
    () => false,
  );
  if (!present) return undefined;
  // The text goes through standard input: nothing in it can be taken for an option or a command.
  return async (text) =>
    readSpeech(await run(["-v", "en", "-s", String(WORDS_PER_MINUTE), "--stdin", "--stdout"], text));
}

function run(options: readonly string[], input: string): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const child = execFile(
      PROGRAM,
      options,
      { encoding: "buffer", timeout: LIMIT_MS, maxBuffer: LARGEST_BYTES },
      (error, output) => {
        if (error) reject(error);
        else resolve(output);
      },
    );
    // A program that is missing or ends early breaks the pipe; the callback above tells it.
    child.stdin?.on("error", () => undefined);
    child.stdin?.end(input);
  });
}

/** WAV as the program streams it: 16-bit mono, its data running to the end whatever length the header claims. */
export function readSpeech(wav: Buffer): SpokenSound {
  const dataAt = wav.indexOf("data", 12, "latin1") + 8;
  if (
    wav.toString("latin1", 0, 4) !== "RIFF" ||
    dataAt < 44 ||
    wav.readUInt16LE(22) !== 1 ||
    wav.readUInt16LE(34) !== 16
  )
    throw new Error("readSpeech: the speech program wrote something else than 16-bit mono WAV");
  const samples = new Int16Array(Math.floor((wav.length - dataAt) / 2));
  for (let index = 0; index < samples.length; index += 1) samples[index] = wav.readInt16LE(dataAt + 2 * index);
  return { sampleRateHz: wav.readUInt32LE(24), samples };
}

/** Each block's tones followed by its words, and the end's, ready for schedule and sound. */
export async function speakAnnouncements(
  blocks: readonly SessionBlock[],
  speaker: Speaker,
  sampleRateHz: number,
): Promise<SpokenAnnouncements> {
  const sounds: Int16Array[] = [];
  for (const [id, text] of [
    ...blocks.map((block) => [block.kind, blockWords(block)] as const),
    ["end", "Finished."] as const,
  ])
    sounds.push(join(id, await speaker(text), sampleRateHz));
  return { sounds, lengthsS: sounds.map(({ length }) => length / sampleRateHz) };
}

const KIND_WORDS: Readonly<Record<SessionBlock["kind"], string>> = {
  "warm-up": "Warm up",
  "standing-drill": "Stand still and learn the beat",
  drill: "Drill",
  "cue-on": "Beat on",
  "cue-off": "Beat off, keep the steps",
  strides: "Strides",
  "cool-down": "Cool down",
};

/** "Beat on, 172. 10 minutes." */
export function blockWords(block: SessionBlock): string {
  const rate = block.stepRateSpm === undefined || block.kind === "cue-off" ? "" : `, ${Math.round(block.stepRateSpm)}`;
  return `${KIND_WORDS[block.kind]}${rate}. ${lengthWords(block)}.`;
}

/** Shorter blocks are said in seconds, so that no minute stands alone. */
const SECONDS_UP_TO = 90;

function lengthWords({ durationS, distanceM }: SessionBlock): string {
  if (durationS === undefined) return `${Math.round(distanceM ?? 0)} metres`;
  if (durationS < SECONDS_UP_TO) return `${Math.round(durationS)} seconds`;
  return `${Math.round(durationS / SECONDS_PER_MINUTE)} minutes`;
}

function join(id: AnnouncementId, speech: SpokenSound, sampleRateHz: number): Int16Array {
  const tones = Int16Array.from(announcementSamples(id, sampleRateHz), (value) => Math.round(value * FULL_SCALE));
  const words = limited(resampled(speech, sampleRateHz));
  const joined = new Int16Array(tones.length + Math.round(PAUSE_S * sampleRateHz) + words.length);
  joined.set(tones);
  joined.set(words, joined.length - words.length);
  return joined;
}

/** Straight lines between samples: what that adds lies above the band of speech. */
function resampled({ samples, sampleRateHz }: SpokenSound, targetRateHz: number): Float64Array {
  const count = Math.floor((samples.length * targetRateHz) / sampleRateHz);
  return Float64Array.from({ length: count }, (_, index) => {
    const position = (index * sampleRateHz) / targetRateHz;
    const before = Math.floor(position);
    const [from, to] = [samples[before] ?? 0, samples[before + 1] ?? 0];
    return from + (to - from) * (position - before);
  });
}

function limited(speech: Float64Array): Int16Array {
  const loudest = speech.reduce((most, value) => Math.max(most, Math.abs(value)), 1);
  const peak = Math.floor(ANNOUNCEMENT_PEAK * FULL_SCALE);
  return Int16Array.from(speech, (value) =>
    Math.round((peak * Math.tanh((DRIVE * value) / loudest)) / Math.tanh(DRIVE)),
  );
}
