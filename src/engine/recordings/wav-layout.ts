// Where the sound lies in a RIFF/WAVE file, checked before anything is decoded: a header may claim what it likes.
// Layout by "Multimedia Programming Interface and Data Specifications 1.0" (1991) and its 1994 and 2001 extensions.
import { type Problem, type Result, type Warning, fail, succeed } from "../quantities/problem.ts";

export interface WavLayout {
  readonly encoding: "pcm" | "float";
  readonly channelCount: number;
  readonly sampleRateHz: number;
  /** Of one sample of one channel in the file: 8, 16, 24, 32 or 64. */
  readonly containerBits: number;
  readonly frameBytes: number;
  readonly dataStartByte: number;
  readonly frameCount: number;
}

export interface WavLimits {
  readonly maxDurationS: number;
  readonly maxFrameCount: number;
}

const RIFF_HEADER_BYTES = 12;
const CHUNK_HEADER_BYTES = 8;
/** A writer that pipes its output cannot know the size and leaves this. */
const UNKNOWN_SIZE = 0xffffffff;
const MAX_CHUNK_COUNT = 1000;
const MAX_CHANNEL_COUNT = 8;
const SAMPLE_RATE_RANGE_HZ = { low: 4000, high: 192_000 };
const FORMAT_PCM = 1;
const FORMAT_FLOAT = 3;
const FORMAT_EXTENSIBLE = 0xfffe;
/** Bytes 2–15 of the sub-format's identifier that make its first two bytes an ordinary format number. */
const SUBFORMAT_TAIL = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];
const FORMAT_NAMES: Readonly<Record<number, string>> = {
  2: "ADPCM",
  6: "A-law",
  7: "µ-law",
  0x11: "IMA ADPCM",
  0x31: "GSM 6.10",
  0x55: "MPEG layer 3",
};

/** Reads the header of a WAV file and checks it against the bytes that are really there; never throws. */
export function layoutOfWav(bytes: Uint8Array, fileName: string, limits: WavLimits): Result<WavLayout> {
  const problem = (code: string, field: string, got: string, expected: string, remedy: string): Problem => ({
    code,
    where: { file: fileName, field },
    got,
    expected,
    remedy,
  });
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const name = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));
  const container = bytes.length >= 4 ? name(0) : "";
  if (bytes.length < RIFF_HEADER_BYTES || container !== "RIFF" || name(8) !== "WAVE")
    return fail(
      problem(
        "wav-not-wav",
        "RIFF",
        bytes.length < RIFF_HEADER_BYTES
          ? `${bytes.length} bytes`
          : `a file that begins with "${printable(container)}"`,
        "a WAV file, which begins with RIFF and WAVE",
        container === "RF64" || container === "RIFX"
          ? "Save it as an ordinary WAV file (PCM, below 4 GB)."
          : "Export the sound as WAV (PCM) and try again.",
      ),
    );

  const warnings: Warning[] = [];
  let format: Format | undefined;
  let at = RIFF_HEADER_BYTES;
  for (let chunks = 0; at + CHUNK_HEADER_BYTES <= bytes.length; chunks += 1) {
    if (chunks === MAX_CHUNK_COUNT)
      return fail(
        problem(
          "wav-too-many-chunks",
          "chunks",
          `more than ${MAX_CHUNK_COUNT}`,
          "a handful of chunks",
          "Save the sound again with another program.",
        ),
      );
    const id = name(at);
    const size = view.getUint32(at + 4, true);
    const body = at + CHUNK_HEADER_BYTES;
    if (id === "fmt " && format === undefined) {
      if (size < 16 || body + size > bytes.length)
        return fail(
          problem(
            "wav-format-broken",
            "fmt",
            `a format chunk of ${size} bytes with ${bytes.length - body} left in the file`,
            "at least 16 bytes, all in the file",
            "The file is damaged: copy or record it again.",
          ),
        );
      format = readFormat(view, body, size);
      const wrong = checkFormat(format, problem);
      if (wrong.length > 0) return fail(...wrong);
    } else if (id === "data") {
      if (format === undefined)
        return fail(
          problem(
            "wav-no-format",
            "fmt",
            "sound data with no format before it",
            "a format chunk first",
            "The file is damaged: copy or record it again.",
          ),
        );
      return layoutOfData(bytes, view, body, size, format, limits, problem, warnings);
    }
    // Chunks are padded to an even length.
    at = body + size + (size % 2);
  }
  return fail(
    problem(
      format === undefined ? "wav-no-format" : "wav-no-data",
      format === undefined ? "fmt" : "data",
      "the end of the file",
      format === undefined ? "a format chunk" : "a data chunk",
      "The file is damaged or was cut short: copy or record it again.",
    ),
  );
}

interface Format {
  readonly tag: number;
  readonly channelCount: number;
  readonly sampleRateHz: number;
  readonly frameBytes: number;
  readonly bits: number;
}

type MakeProblem = (code: string, field: string, got: string, expected: string, remedy: string) => Problem;

function readFormat(view: DataView, at: number, size: number): Format {
  let tag = view.getUint16(at, true);
  if (tag === FORMAT_EXTENSIBLE && size >= 40) {
    const known = SUBFORMAT_TAIL.every((byte, index) => view.getUint8(at + 26 + index) === byte);
    if (known) tag = view.getUint16(at + 24, true);
  }
  return {
    tag,
    channelCount: view.getUint16(at + 2, true),
    sampleRateHz: view.getUint32(at + 4, true),
    frameBytes: view.getUint16(at + 12, true),
    bits: view.getUint16(at + 14, true),
  };
}

function containerBitsOf(format: Format): number {
  return Math.ceil(format.bits / 8) * 8;
}

function checkFormat(format: Format, problem: MakeProblem): Problem[] {
  const { tag, channelCount, sampleRateHz, frameBytes, bits } = format;
  const container = containerBitsOf(format);
  if (tag !== FORMAT_PCM && tag !== FORMAT_FLOAT)
    return [
      problem(
        "wav-codec",
        "format",
        FORMAT_NAMES[tag] ?? `format number ${tag}`,
        "uncompressed sound (PCM or float)",
        "Export the sound as WAV with PCM, 16 bit.",
      ),
    ];
  const problems: Problem[] = [];
  const depths = tag === FORMAT_PCM ? [8, 16, 24, 32] : [32, 64];
  const depthOk = depths.includes(container) && (tag === FORMAT_PCM || bits === container);
  if (!depthOk)
    problems.push(
      problem(
        "wav-bit-depth",
        "bits per sample",
        `${bits}`,
        tag === FORMAT_PCM ? "8, 16, 24 or 32" : "32 or 64 for float",
        "Export the sound as WAV with PCM, 16 bit.",
      ),
    );
  const channelsOk = channelCount >= 1 && channelCount <= MAX_CHANNEL_COUNT;
  if (!channelsOk)
    problems.push(
      problem(
        "wav-channels",
        "channels",
        `${channelCount}`,
        `1 to ${MAX_CHANNEL_COUNT}`,
        "Export the sound in mono or stereo.",
      ),
    );
  if (sampleRateHz < SAMPLE_RATE_RANGE_HZ.low || sampleRateHz > SAMPLE_RATE_RANGE_HZ.high)
    problems.push(
      problem(
        "wav-sample-rate",
        "sample rate",
        `${sampleRateHz} Hz`,
        `${SAMPLE_RATE_RANGE_HZ.low} to ${SAMPLE_RATE_RANGE_HZ.high} Hz`,
        "Export the sound at 44100 or 48000 Hz.",
      ),
    );
  if (depthOk && channelsOk && frameBytes !== (channelCount * container) / 8)
    problems.push(
      problem(
        "wav-block-align",
        "block align",
        `${frameBytes} bytes`,
        `${(channelCount * container) / 8} bytes for ${channelCount} × ${container} bit`,
        "The file is damaged: copy or record it again.",
      ),
    );
  return problems;
}

function layoutOfData(
  bytes: Uint8Array,
  view: DataView,
  body: number,
  claimed: number,
  format: Format,
  limits: WavLimits,
  problem: MakeProblem,
  warnings: Warning[],
): Result<WavLayout> {
  const present = bytes.length - body;
  const riffSize = view.getUint32(4, true);
  if (claimed === UNKNOWN_SIZE)
    warnings.push({
      code: "wav-length-unknown",
      message: "The file does not say how long it is; everything to its end was read.",
    });
  else if (claimed > present)
    return fail(
      problem(
        "wav-truncated",
        "data",
        `${present} bytes of sound, of ${claimed} that the header claims`,
        "all the sound that the header claims",
        "The file was cut short: copy it again, or save the part that plays as a new WAV file.",
      ),
    );
  else if (riffSize !== 0 && riffSize !== UNKNOWN_SIZE && riffSize > bytes.length - CHUNK_HEADER_BYTES)
    warnings.push({
      code: "wav-end-missing",
      message: "The end of the file is missing, but all of its sound is there.",
    });
  const frameCount = Math.floor(Math.min(claimed, present) / format.frameBytes);
  if (frameCount === 0)
    return fail(
      problem("wav-empty", "data", "no sound", "at least one sample", "Record again and check that the file plays."),
    );
  const durationS = frameCount / format.sampleRateHz;
  if (durationS > limits.maxDurationS || frameCount > limits.maxFrameCount)
    return fail(
      problem(
        "wav-too-long",
        "data",
        `${Math.round(durationS)} s at ${format.sampleRateHz} Hz`,
        `at most ${limits.maxDurationS} s and ${limits.maxFrameCount} samples a channel`,
        "Cut out the part of the run that you want measured.",
      ),
    );
  return succeed(
    {
      encoding: format.tag === FORMAT_FLOAT ? "float" : "pcm",
      channelCount: format.channelCount,
      sampleRateHz: format.sampleRateHz,
      containerBits: containerBitsOf(format),
      frameBytes: format.frameBytes,
      dataStartByte: body,
      frameCount,
    },
    warnings,
  );
}

function printable(text: string): string {
  return text.replaceAll(/[^\x20-\x7e]/g, "?");
}
