// spondee beat: a beat track as a WAV file, and its exact beat times.
import { CLICK_SOUNDS } from "../../engine/beat/clicks.ts";
import { createBeatSchedule } from "../../engine/beat/create-schedule.ts";
import { beatEvents } from "../../engine/beat/events.ts";
import type { BeatSchedule, SteadyBeat } from "../../engine/beat/schedule.ts";
import { wavTrack } from "../../engine/beat/wav.ts";
import { SECONDS_PER_MINUTE } from "../../engine/quantities/units.ts";
import type { Session } from "../../engine/session/session.ts";
import { listeningCaution } from "../../engine/target/cautions.ts";
import { type Command, type Invocation, type Options, UsageError } from "../command.ts";
import { expectOk } from "../input.ts";
import { readSessionFile } from "../session-file.ts";
import { rounded } from "../text.ts";

const clickIds = CLICK_SOUNDS.map(({ id }) => id);

export const beatCommand: Command = {
  name: "beat",
  summary: "a beat track as a WAV file, one beat per step",
  usage: "(--spm N --minutes M | --session FILE) [--out FILE.wav] [--events]",
  options: {
    spm: { value: "N", help: "steady rate, both feet" },
    minutes: { value: "M", help: "length of the steady track" },
    session: { value: "FILE", help: "a session as JSON, see docs/formats.md" },
    out: { value: "FILE.wav", help: "where to write the track" },
    events: { help: "print the exact beat times" },
    click: { value: clickIds.join("|"), help: `sound of the beat (default ${clickIds[0]})` },
    "sample-rate": { value: "HZ", help: "22050, 44100 (default) or 48000" },
    accent: { value: "N", help: "accent every n-th beat" },
    "count-in": { value: "N", help: "beats that count in before each block" },
    announce: { help: "announce each block by tones" },
  },
  notes: listeningCaution,
  async run(invocation) {
    const { options, outside } = invocation;
    const out = options.text("out");
    const wantsEvents = options.flag("events");
    if (out === undefined && !wantsEvents)
      throw new UsageError("say where the track goes with --out FILE.wav, or ask for --events");
    const { source, title } = await chooseSource(invocation);
    const schedule = expectOk(createBeatSchedule(source, beatOptions(options)));
    if (out !== undefined) {
      const clickId = options.choice("click", clickIds) ?? clickIds[0]!;
      const track = expectOk(wavTrack(schedule, { clickId }, { title }));
      await outside.writeFile(out, track.chunks());
    }
    return { json: describe(schedule, out, wantsEvents), text: tell(schedule, out, wantsEvents) };
  },
};

async function chooseSource(invocation: Invocation): Promise<{ source: Session | SteadyBeat; title: string }> {
  const { options } = invocation;
  const sessionFile = options.text("session");
  const steady = options.text("spm") !== undefined || options.text("minutes") !== undefined;
  if ((sessionFile === undefined) !== steady)
    throw new UsageError("give either --spm with --minutes, or --session FILE");
  if (sessionFile !== undefined) {
    const session = await readSessionFile(sessionFile, invocation.outside);
    return { source: session, title: session.title };
  }
  const stepRateSpm = options.requiredNumber("spm");
  const durationS = options.requiredNumber("minutes") * SECONDS_PER_MINUTE;
  return { source: { stepRateSpm, durationS }, title: `Beat at ${stepRateSpm} steps per minute` };
}

function beatOptions(options: Options) {
  const accentEvery = wholeNumber(options, "accent", 0, 1000);
  const countInBeats = wholeNumber(options, "count-in", 0, 16);
  const sampleRate = options.choice("sample-rate", ["22050", "44100", "48000"]);
  return {
    announce: options.flag("announce"),
    ...(accentEvery === undefined ? {} : { accentEvery }),
    ...(countInBeats === undefined ? {} : { countInBeats }),
    ...(sampleRate === undefined ? {} : { sampleRateHz: Number(sampleRate) }),
  };
}

function wholeNumber(options: Options, name: string, low: number, high: number): number | undefined {
  const value = options.numberIn(name, low, high, "beats");
  if (value !== undefined && !Number.isInteger(value)) throw new UsageError(`--${name} takes a whole number`);
  return value;
}

function describe(schedule: BeatSchedule, out: string | undefined, wantsEvents: boolean) {
  return {
    file: out ?? null,
    sampleRateHz: schedule.sampleRateHz,
    sampleCount: schedule.sampleCount,
    durationS: schedule.durationS,
    beatCount: schedule.beatCount,
    blocks: schedule.blocks,
    ...(wantsEvents ? { events: [...beatEvents(schedule)] } : {}),
    cautions: [listeningCaution],
  };
}

function tell(schedule: BeatSchedule, out: string | undefined, wantsEvents: boolean): string {
  const lines = wantsEvents
    ? [...beatEvents(schedule)].map((event) => `${event.timeS.toFixed(9)}\t${event.sampleIndex}\t${event.kind}`)
    : [];
  if (out !== undefined) {
    const minutes = rounded(schedule.durationS / SECONDS_PER_MINUTE, 1);
    lines.push(`${out}: ${minutes} minutes, ${schedule.beatCount} beats. ${listeningCaution}`);
  }
  return lines.join("\n");
}
