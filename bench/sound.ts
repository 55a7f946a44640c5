// Sound: how much faster than real time, against the same first stage in scipy, and what an hour takes in memory.
import { spawnSync } from "node:child_process";
import path from "node:path";
import { readWav } from "../src/engine/recordings/wav.ts";
import { analyseSound } from "../src/engine/steps/analyse-sound.ts";
import { soundBands } from "../src/engine/steps/sound-bands.ts";
import { soundOnsets } from "../src/engine/steps/sound-onsets.ts";
import { createSoundScene } from "../src/engine/synthetic/sound-scene.ts";

const SAMPLE_RATE_HZ = 44_100;
const DURATION_S = 120;

function secondsOf(work: () => void, times = 5): number {
  const taken: number[] = [];
  for (let turn = 0; turn < times; turn += 1) {
    const started = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(started);
    taken.push((user + system) / 1e6);
  }
  return taken.sort((a, b) => a - b)[times >> 1]!;
}

const { recording } = createSoundScene({
  seed: 1,
  durationS: DURATION_S,
  sampleRateHz: SAMPLE_RATE_HZ,
  stepRateSpm: () => 172,
  surface: "belt",
  background: "belt-hum",
});

const firstStage = secondsOf(() => void soundOnsets(soundBands(recording.samples, SAMPLE_RATE_HZ), []));
const whole = secondsOf(() => void analyseSound(recording));
const scipy = spawnSync(
  "python3",
  [path.join(import.meta.dirname, "sound-scipy.py"), `${DURATION_S}`, `${SAMPLE_RATE_HZ}`],
  {
    encoding: "utf8",
  },
);
console.log(`onsets: ${(DURATION_S / firstStage).toFixed(0)} times real time`);
if (scipy.status === 0)
  console.log(`onsets against scipy: ${(Number(scipy.stdout) / firstStage).toFixed(2)} times as fast`);
else console.log("onsets against scipy: scipy is not there");
console.log(`whole analysis: ${(DURATION_S / whole).toFixed(0)} times real time`);

const frames = SAMPLE_RATE_HZ * 600;
const wav = new Uint8Array(44 + 2 * frames);
const view = new DataView(wav.buffer);
for (const [at, text] of [
  [0, "RIFF"],
  [8, "WAVE"],
  [12, "fmt "],
  [36, "data"],
] as const)
  for (let index = 0; index < 4; index += 1) wav[at + index] = text.charCodeAt(index);
for (const [at, value] of [
  [4, 36 + 2 * frames],
  [16, 16],
  [24, SAMPLE_RATE_HZ],
  [28, 2 * SAMPLE_RATE_HZ],
  [40, 2 * frames],
] as const)
  view.setUint32(at, value, true);
for (const [at, value] of [
  [20, 1],
  [22, 1],
  [32, 2],
  [34, 16],
] as const)
  view.setUint16(at, value, true);
for (let frame = 0; frame < frames; frame += 1) view.setInt16(44 + 2 * frame, (frame * 7919) % 20_000, true);
const read = secondsOf(() => void readWav(wav, { fileName: "bench.wav" }), 3);
console.log(`reading WAV, 16 bit: ${(600 / read).toFixed(0)} times real time`);
