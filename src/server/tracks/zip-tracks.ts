// All the tracks of a group in one archive, made while it is being sent.
import { makeZip } from "client-zip";
import { type TrackFile } from "./track.ts";

export interface ZipProgress {
  readonly tracksDone: number;
  readonly trackCount: number;
  /** Of the track that is next. Absent when all are done. */
  readonly fileName?: string;
}

export interface ZipOptions {
  /** Stamp of the entries. */
  readonly madeAt: Date;
  /** Called before each track and once at the end. */
  readonly onProgress?: (progress: ZipProgress) => void;
}

/**
 * The archive as chunks; tracks are encoded one after the other, so memory does not grow with their number. Names that
 * meet get " 2", " 3" … before their ending. Stopping early stops the encoder.
 */
export async function* zipTracks(
  tracks: readonly TrackFile[],
  options: ZipOptions,
): AsyncGenerator<Uint8Array, void, undefined> {
  const names = distinctNames(tracks.map(({ fileName }) => fileName));
  let encoding: AsyncGenerator<Uint8Array, void, undefined> | undefined;
  // oxlint-disable-next-line require-await -- the archive asks for its entries asynchronously
  async function* entries(): AsyncGenerator<{ name: string; lastModified: Date; input: AsyncIterable<Uint8Array> }> {
    for (const [index, track] of tracks.entries()) {
      const name = names[index] ?? track.fileName;
      options.onProgress?.({ tracksDone: index, trackCount: tracks.length, fileName: name });
      encoding = track.chunks();
      yield { name, lastModified: options.madeAt, input: encoding };
    }
  }
  const reader = makeZip(entries()).getReader();
  try {
    for (let piece = await reader.read(); !piece.done; piece = await reader.read()) yield piece.value;
  } finally {
    // The archive does not end the stream that it was reading when it is left early or breaks.
    await encoding?.return();
    await reader.cancel(new Error("zipTracks: the reader stopped")).catch(() => undefined);
  }
  options.onProgress?.({ tracksDone: tracks.length, trackCount: tracks.length });
}

/** File systems that fold case must not merge two runners' tracks. */
export function distinctNames(names: readonly string[]): readonly string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const dot = name.lastIndexOf(".");
    const [stem, ending] = dot > 0 ? [name.slice(0, dot), name.slice(dot)] : [name, ""];
    let candidate = name;
    for (let count = 2; taken.has(candidate.toLowerCase()); count += 1) candidate = `${stem} ${count}${ending}`;
    taken.add(candidate.toLowerCase());
    return candidate;
  });
}
