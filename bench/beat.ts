// Beat tracks: how much faster than real time they are made, how much memory that takes, and where the clicks of an hour lie.
import { FLACDecoder } from "@wasm-audio-decoders/flac";
import { OggVorbisDecoder } from "@wasm-audio-decoders/ogg-vorbis";
import { clickSamples } from "../src/engine/beat/clicks.ts";
import { createBeatSchedule } from "../src/engine/beat/create-schedule.ts";
import { beatEvents } from "../src/engine/beat/events.ts";
import { type BeatSchedule } from "../src/engine/beat/schedule.ts";
import { type TrackFormat, createTrack } from "../src/server/tracks/track.ts";
import { locate } from "../tests/sound-measure.ts";

const SOUND = { clickId: "wood" } as const;
const LIMITS: Readonly<Record<TrackFormat, number>> = { wav: 10_000, flac: 200, ogg: 200 };

function schedule(minutes: number, sampleRateHz: number): BeatSchedule {
  const result = createBeatSchedule({ stepRateSpm: 173.3, durationS: minutes * 60 }, { sampleRateHz, accentEvery: 4 });
  if (!result.ok) throw new Error("no schedule");
  return result.value;
}

interface Measure {
  readonly byteCount: number;
  /** Of this process's own computing, so that a busy machine does not blur it. */
  readonly seconds: number;
  /** Growth of the process above its size before the track. */
  readonly grownMb: number;
}

async function measure(of: BeatSchedule, format: TrackFormat): Promise<Measure> {
  const track = createTrack({ schedule: of, sound: SOUND, tags: { title: "Bench" }, format });
  if (!track.ok) throw new Error("no track");
  const before = process.memoryUsage().rss;
  let [byteCount, most] = [0, before];
  const started = process.cpuUsage();
  for await (const chunk of track.value.chunks()) {
    byteCount += chunk.length;
    most = Math.max(most, process.memoryUsage.rss());
  }
  const { user, system } = process.cpuUsage(started);
  return { byteCount, seconds: (user + system) / 1e6, grownMb: (most - before) / 1e6 };
}

async function worstOnsetSamples(format: "flac" | "ogg", sampleRateHz: number): Promise<number> {
  const hour = schedule(60, sampleRateHz);
  const track = createTrack({ schedule: hour, sound: SOUND, tags: { title: "" }, format });
  if (!track.ok) throw new Error("no track");
  const parts: Uint8Array[] = [];
  for await (const chunk of track.value.chunks()) parts.push(chunk);
  const decoder = format === "flac" ? new FLACDecoder() : new OggVorbisDecoder();
  await decoder.ready;
  const sound = (await decoder.decodeFile(Buffer.concat(parts))).channelData[0]!;
  decoder.free();
  let worst = 0;
  for (const event of beatEvents(hour)) {
    if (event.kind === "announce") continue;
    const template = clickSamples("wood", { sampleRateHz, ...event }).subarray(0, sampleRateHz / 100);
    // Beat k of a steady rate lies at 600·k/1733 s.
    const exact = event.timeS * sampleRateHz;
    worst = Math.max(worst, Math.abs(locate(sound, template, exact, 8) - exact));
  }
  return worst;
}

export async function benchBeat(): Promise<boolean> {
  let good = true;
  const say = (line: string): void => void process.stdout.write(`${line}\n`);
  for (const format of ["wav", "flac", "ogg"] as const) {
    await measure(schedule(2, 22_050), format);
    const track = schedule(45, 22_050);
    const { byteCount, seconds, grownMb } = await measure(track, format);
    const ratio = track.durationS / seconds;
    good &&= ratio >= LIMITS[format];
    say(
      `beat ${format}: 45 min in ${seconds.toFixed(2)} s, ${ratio.toFixed(0)}× real time (bar ${LIMITS[format]}×), ${(byteCount / 1e6).toFixed(1)} MB, memory +${grownMb.toFixed(0)} MB`,
    );
  }
  const wav = schedule(45, 44_100);
  const { seconds } = await measure(wav, "wav");
  say(`beat wav 44.1 kHz: 45 min in ${seconds.toFixed(2)} s, ${(wav.durationS / seconds).toFixed(0)}× real time`);
  const [short, long] = [await measure(schedule(10, 22_050), "flac"), await measure(schedule(90, 22_050), "flac")];
  say(`beat flac memory: 10 min +${short.grownMb.toFixed(0)} MB, 90 min +${long.grownMb.toFixed(0)} MB`);
  for (const [format, sampleRateHz] of [
    ["flac", 22_050],
    ["ogg", 22_050],
    ["ogg", 44_100],
  ] as const) {
    const worst = await worstOnsetSamples(format, sampleRateHz);
    good &&= worst <= 0.5;
    say(
      `beat ${format} ${sampleRateHz} Hz: worst onset of an hour ${worst.toFixed(3)} samples off (bar 0.5), by another decoder`,
    );
  }
  return good;
}

if (import.meta.url === `file://${process.argv[1]}` && !(await benchBeat())) process.exitCode = 1;
