// FLAC (RFC 9639): every sample exact, every current phone plays it. Encoded by libFLAC, compiled to WebAssembly.
import { createRequire } from "node:module";
import { setImmediate } from "node:timers/promises";
import type * as FlacModule from "libflacjs/dist/libflac.js";
import { type SoundOptions, renderBeat } from "../../engine/beat/render.ts";
import { type BeatSchedule } from "../../engine/beat/schedule.ts";
import { type TrackTags } from "../../engine/beat/track-tags.ts";
import { trackComment } from "./track-comment.ts";

const COMPRESSION_LEVEL = 5;
const BITS_PER_SAMPLE = 16;
/** Shorter than the silence between clicks, so that most blocks hold nothing and cost 11 bytes. */
const BLOCK_SAMPLES = 1152;
const LAST_BLOCK = 0x80;
const COMMENT_BLOCK = 4;
const STREAM_INFO_BYTES = 38;

/** The track as FLAC, a few seconds at a time; gives way to other work between the pieces. */
export async function* flacChunks(
  schedule: BeatSchedule,
  sound: SoundOptions,
  tags: TrackTags,
): AsyncGenerator<Uint8Array, void, undefined> {
  const flac = await loadFlac();
  const encoder = flac.create_libflac_encoder(
    schedule.sampleRateHz,
    1,
    BITS_PER_SAMPLE,
    COMPRESSION_LEVEL,
    0,
    false,
    BLOCK_SAMPLES,
  );
  if (encoder === 0) throw new Error("flacChunks: the FLAC encoder could not be made");
  // The encoder writes its marker, then its two metadata blocks, then frames, each in a call of its own.
  const written: Uint8Array[] = [];
  try {
    if (flac.init_encoder_stream(encoder, (data) => void written.push(Uint8Array.from(data))) !== 0)
      throw new Error("flacChunks: the FLAC encoder could not be started");
    const [marker, streamInfo] = written.splice(0);
    if (marker === undefined || streamInfo?.length !== STREAM_INFO_BYTES)
      throw new Error("flacChunks: the FLAC encoder wrote an unexpected beginning");
    yield Buffer.concat([marker, withSampleCount(streamInfo, schedule.sampleCount), commentBlock(tags)]);
    for (const chunk of renderBeat(schedule, sound)) {
      if (!flac.FLAC__stream_encoder_process_interleaved(encoder, new Int32Array(chunk), chunk.length))
        throw new Error("flacChunks: the FLAC encoder failed");
      yield Buffer.concat(written.splice(0));
      await setImmediate();
    }
    flac.FLAC__stream_encoder_finish(encoder);
    yield Buffer.concat(written.splice(0));
  } finally {
    flac.FLAC__stream_encoder_delete(encoder);
  }
}

type Flac = typeof FlacModule;

let loading: Promise<Flac> | undefined;

/** Loaded at the first track: code that most runs of the server never need. */
function loadFlac(): Promise<Flac> {
  return (loading ??= (async () => {
    const flac = requireFlac();
    if (!flac.isReady()) await new Promise((resolve) => flac.on("ready", resolve));
    return flac;
  })());
}

/**
 * The package fetches its WebAssembly by a bare path wherever there is a fetch, which Node refuses; without one it reads the
 * file. It looks once, while its code runs, so fetch is out of its sight for that moment, in which nothing else runs.
 */
function requireFlac(): Flac {
  const { fetch } = globalThis;
  Object.assign(globalThis, { fetch: undefined });
  try {
    return createRequire(import.meta.url)("libflacjs/dist/libflac.wasm.js") as Flac;
  } finally {
    Object.assign(globalThis, { fetch });
  }
}

/** STREAMINFO ends in the sample count, 36 bits, and a checksum of the sound, where zeros mean "not known". */
function withSampleCount(streamInfo: Uint8Array, sampleCount: number): Uint8Array {
  const block = Buffer.from(streamInfo);
  // 4 bytes of block head; the count's upper 4 bits share byte 13 of the block with the sample size.
  block.writeUInt8((block.readUInt8(17) & 0xf0) | Math.floor(sampleCount / 2 ** 32), 17);
  block.writeUInt32BE(sampleCount % 2 ** 32, 18);
  return block;
}

/** Takes the place of the encoder's own comment block, the last one before the frames. */
function commentBlock(tags: TrackTags): Uint8Array {
  const comment = trackComment(tags);
  const head = Buffer.alloc(4);
  head.writeUInt8(LAST_BLOCK | COMMENT_BLOCK, 0);
  head.writeUIntBE(comment.length, 1, 3);
  return Buffer.concat([head, comment]);
}
