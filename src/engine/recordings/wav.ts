// WAV to a SoundRecording. The header is checked here; the samples are decoded by a library, a block at a time.
import { decoder } from "@audio/decode-wav";
import { type Result, type Warning, fail, succeed } from "../quantities/problem.ts";
import { type SoundRecording } from "./recording.ts";
import { type WavLayout, layoutOfWav } from "./wav-layout.ts";

export interface WavOptions {
  /** Shown in problems. */
  readonly fileName: string;
  /** Longest sound that is read, seconds; default one hour. */
  readonly maxDurationS?: number;
}

const DEFAULT_MAX_DURATION_S = 3600;
/** An hour at 48 kHz: 691 MB as 32-bit floats, about what one browser tab can hold. */
const MAX_FRAME_COUNT = 172_800_000;
const BLOCK_FRAME_COUNT = 1 << 16;

/**
 * Reads a WAV file: PCM 8, 16, 24, 32 bit or float 32, 64 bit, plain or extensible format, 1 to 8 channels
 * (averaged into one), 4 to 192 kHz.
 *
 * Samples come out as −1 to 1; a float file that goes beyond is scaled down as a whole and a warning says so. A header
 * that claims more sound than the file holds is a problem (`wav-truncated`), as are other codecs, no sound, and more
 * than `maxDurationS`; nothing is allocated for claims. Never throws. Cost: one pass, memory 4 bytes a frame.
 */
export function readWav(bytes: Uint8Array, options: WavOptions): Result<SoundRecording> {
  const layout = layoutOfWav(bytes, options.fileName, {
    maxDurationS: options.maxDurationS ?? DEFAULT_MAX_DURATION_S,
    maxFrameCount: MAX_FRAME_COUNT,
  });
  if (!layout.ok) return layout;
  const samples = decodeMono(bytes, layout.value);
  const warnings: Warning[] = [...layout.warnings];
  let peak = 0;
  for (let index = 0; index < samples.length; index += 1) {
    const size = Math.abs(samples[index]!);
    // NaN fails every comparison, so it is caught by the negation.
    if (!(size < Infinity))
      return fail({
        code: "wav-not-finite",
        where: { file: options.fileName, field: `sample ${index + 1}` },
        got: `${samples[index]}`,
        expected: "finite samples",
        remedy: "The file is damaged: export the sound again as WAV with PCM, 16 bit.",
      });
    if (size > peak) peak = size;
  }
  if (peak > 1) {
    for (let index = 0; index < samples.length; index += 1) samples[index] = samples[index]! / peak;
    warnings.push({ code: "wav-scaled", message: "Samples went beyond full scale; the whole sound was scaled down." });
  }
  return succeed({ kind: "sound", sampleRateHz: layout.value.sampleRateHz, samples, cueBlocks: [] }, warnings);
}

/** The decoder sees a header of our own, so that no claim in the file reaches it. */
function decodeMono(bytes: Uint8Array, layout: WavLayout): Float32Array {
  const mono = new Float32Array(layout.frameCount);
  // The decoder divides positive integers by 2^(bits−1) − 1 and negative ones by 2^(bits−1); both by the latter is linear.
  const positiveScale = layout.encoding === "pcm" ? 1 - 2 ** (1 - layout.containerBits) : 1;
  const decoding = decoder();
  decoding.decode(plainHeader(layout));
  for (let frame = 0; frame < layout.frameCount; frame += BLOCK_FRAME_COUNT) {
    const end = Math.min(frame + BLOCK_FRAME_COUNT, layout.frameCount);
    const from = layout.dataStartByte + frame * layout.frameBytes;
    const { channelData } = decoding.decode(bytes.subarray(from, from + (end - frame) * layout.frameBytes));
    for (const channel of channelData)
      for (let index = 0; index < channel.length; index += 1) {
        const value = channel[index]!;
        mono[frame + index] = mono[frame + index]! + (value > 0 ? value * positiveScale : value) / layout.channelCount;
      }
  }
  decoding.free();
  return mono;
}

function plainHeader(layout: WavLayout): Uint8Array {
  const header = new Uint8Array(44);
  const view = new DataView(header.buffer);
  const text = (at: number, four: string): void => {
    for (let index = 0; index < 4; index += 1) header[at + index] = four.charCodeAt(index);
  };
  text(0, "RIFF");
  text(8, "WAVE");
  text(12, "fmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, layout.encoding === "float" ? 3 : 1, true);
  view.setUint16(22, layout.channelCount, true);
  view.setUint32(24, layout.sampleRateHz, true);
  view.setUint32(28, layout.sampleRateHz * layout.frameBytes, true);
  view.setUint16(32, layout.frameBytes, true);
  view.setUint16(34, layout.containerBits, true);
  text(36, "data");
  view.setUint32(40, 0xffffffff, true);
  return header;
}
