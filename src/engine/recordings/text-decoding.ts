// Bytes to text, refusing what does not fit the encoding: a wrong letter is better told than read.
import { fail, succeed, type Problem, type Result } from "../quantities/problem.ts";

/** The part of the Encoding Standard's TextDecoder that is used here; browsers and Node both have it. */
export interface Decoder {
  decode(bytes?: Uint8Array, options?: { stream: boolean }): string;
}
declare const TextDecoder: new (label: string, options: { fatal: boolean; ignoreBOM: boolean }) => Decoder;

export interface Encoding {
  readonly label: string;
  /** Length of the byte-order mark to skip. */
  readonly skip: number;
}

/** A byte-order mark decides; without one UTF-16 is recognised by its zeros, and the rest is taken as UTF-8. */
export function sniffEncoding(bytes: Uint8Array): Encoding {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return { label: "utf-8", skip: 3 };
  if (a === 0xff && b === 0xfe) return { label: "utf-16le", skip: 2 };
  if (a === 0xfe && b === 0xff) return { label: "utf-16be", skip: 2 };
  if (a === 0x3c && b === 0) return { label: "utf-16le", skip: 0 };
  if (a === 0 && b === 0x3c) return { label: "utf-16be", skip: 0 };
  return { label: "utf-8", skip: 0 };
}

/** A decoder that throws on bytes outside the encoding, or the problem that there is no such encoding. */
export function createDecoder(label: string, fileName: string): Result<Decoder> {
  try {
    return succeed(new TextDecoder(label, { fatal: true, ignoreBOM: true }));
  } catch {
    return fail({
      code: "encoding-unknown",
      where: { file: fileName },
      got: `the encoding "${label.slice(0, 40)}"`,
      expected: "UTF-8, or another encoding that is known here",
      remedy: "Save the file again as UTF-8.",
    });
  }
}

export function encodingProblem(label: string, fileName: string, line?: number): Problem {
  return {
    code: "encoding-mismatch",
    where: { file: fileName, ...(line === undefined ? {} : { line }) },
    got: `bytes that are not ${label.toUpperCase()}`,
    expected: `text in ${label.toUpperCase()}`,
    remedy: "Save the file again as UTF-8, with that encoding declared.",
  };
}

/** All of a small text at once. */
export function decodeText(bytes: Uint8Array, fileName: string): Result<string> {
  const { label, skip } = sniffEncoding(bytes);
  const decoder = createDecoder(label, fileName);
  if (!decoder.ok) return decoder;
  try {
    return succeed(decoder.value.decode(bytes.subarray(skip)));
  } catch {
    return fail(encodingProblem(label, fileName));
  }
}
