// RIFF WAVE, 16-bit mono PCM (Multimedia Programming Interface and Data Specifications 1.0, 1991), written as a stream.
import { type Result, fail, succeed } from "../quantities/problem.ts";
import { type SoundOptions, renderBeat } from "./render.ts";
import { type BeatSchedule } from "./schedule.ts";
import { type TrackTags, checkedTags } from "./track-tags.ts";

const BYTES_PER_SAMPLE = 2;
const LARGEST_RIFF_BYTES = 2 ** 32 - 1;

/** A track as WAV: its size in bytes, known beforehand, and its bytes in chunks of about 4 s. */
export interface WavTrack {
  readonly byteCount: number;
  /** Starts afresh at each call. */
  chunks(): Generator<Uint8Array, void, undefined>;
}

/** The schedule as a WAV file; a problem when it would pass the format's 4 GiB (about 13 hours at 44.1 kHz). */
export function wavTrack(schedule: BeatSchedule, sound: SoundOptions, tags: TrackTags): Result<WavTrack> {
  const dataBytes = schedule.sampleCount * BYTES_PER_SAMPLE;
  const info = infoChunk(tags);
  const byteCount = 44 + info.length + dataBytes;
  if (byteCount - 8 > LARGEST_RIFF_BYTES)
    return fail({
      code: "track-too-long-for-wav",
      where: { field: "durationS" },
      got: `${Math.round(schedule.durationS)} s at ${schedule.sampleRateHz} Hz`,
      expected: "a track below 4 GiB",
      remedy: "Choose a lower sample rate, a shorter session, or a compressed track.",
    });
  return succeed({
    byteCount,
    *chunks() {
      yield wavHeader({ sampleRateHz: schedule.sampleRateHz, sampleCount: schedule.sampleCount, info });
      // Every machine that runs this stores numbers little end first, as the format asks.
      for (const chunk of renderBeat(schedule, sound)) yield new Uint8Array(chunk.buffer);
    },
  });
}

/** Everything before the samples: RIFF, fmt, the given INFO chunk, and the head of data. */
function wavHeader(format: {
  readonly sampleRateHz: number;
  readonly sampleCount: number;
  readonly info: Uint8Array;
}): Uint8Array {
  const dataBytes = format.sampleCount * BYTES_PER_SAMPLE;
  const header = new Uint8Array(44 + format.info.length);
  const view = new DataView(header.buffer);
  writeAscii(header, 0, "RIFF");
  view.setUint32(4, header.length - 8 + dataBytes, true);
  writeAscii(header, 8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, 1, true);
  view.setUint32(24, format.sampleRateHz, true);
  view.setUint32(28, format.sampleRateHz * BYTES_PER_SAMPLE, true);
  view.setUint16(32, BYTES_PER_SAMPLE, true);
  view.setUint16(34, 8 * BYTES_PER_SAMPLE, true);
  header.set(format.info, 36);
  writeAscii(header, 36 + format.info.length, "data");
  view.setUint32(40 + format.info.length, dataBytes, true);
  return header;
}

/** LIST INFO with the title (INAM) and the initials (IART), in UTF-8, each ended by a zero and padded to an even length. */
function infoChunk(tags: TrackTags): Uint8Array {
  const { title, initials } = checkedTags(tags);
  const entries = [
    { id: "INAM", text: title },
    { id: "IART", text: initials },
  ].filter(({ text }) => text !== "");
  if (entries.length === 0) return new Uint8Array(0);
  const parts = entries.map(({ id, text }) => {
    const bytes = utf8(text);
    const length = bytes.length + 1;
    const part = new Uint8Array(8 + length + (length % 2));
    writeAscii(part, 0, id);
    new DataView(part.buffer).setUint32(4, length, true);
    part.set(bytes, 8);
    return part;
  });
  const contentBytes = 4 + parts.reduce((sum, part) => sum + part.length, 0);
  const chunk = new Uint8Array(8 + contentBytes);
  writeAscii(chunk, 0, "LIST");
  new DataView(chunk.buffer).setUint32(4, contentBytes, true);
  writeAscii(chunk, 8, "INFO");
  let offset = 12;
  for (const part of parts) {
    chunk.set(part, offset);
    offset += part.length;
  }
  return chunk;
}

function writeAscii(target: Uint8Array, offset: number, text: string): void {
  for (let index = 0; index < text.length; index += 1) target[offset + index] = text.charCodeAt(index);
}

/** The engine has no TextEncoder among its types; percent-encoding gives the same bytes. */
function utf8(text: string): Uint8Array {
  const encoded = encodeURIComponent(text);
  const bytes: number[] = [];
  for (let index = 0; index < encoded.length; index += 1) {
    if (encoded[index] === "%") {
      bytes.push(Number.parseInt(encoded.slice(index + 1, index + 3), 16));
      index += 2;
    } else bytes.push(encoded.charCodeAt(index));
  }
  return Uint8Array.from(bytes);
}
