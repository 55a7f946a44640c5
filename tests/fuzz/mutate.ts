// Valid files made wrong in the ways that files go wrong, and in the ways that break readers. Same seed, same files.
import type { Random } from "../../src/engine/quantities/random.ts";

/** Longest file made; long enough for anything worse than linear to show. */
const INFLATED_BYTES = 1_500_000;
/** One input in so many is blown up by repeating a piece of it. */
const INFLATE_ONE_IN = 2000;

const NUMBERS = [
  "0",
  "-0",
  "-1",
  "1e308",
  "-1e308",
  "1e999",
  "NaN",
  "Infinity",
  "0x7f",
  "1e-320",
  "9007199254740993",
  "4294967296",
  "2147483648",
  "65536",
  "999999999999999999999999",
  "1,5",
  "1.5.5",
  "--1",
  "+",
  "",
  " ",
  "1_000",
  "١٢٣",
];
const TEXTS = [
  "\0",
  "\u{FEFF}",
  "\r",
  "\n",
  "\r\n",
  '"',
  '""',
  ";",
  ",",
  "\t",
  "=1+1",
  "<",
  ">",
  "&",
  "]]>",
  "<![CDATA[",
  "<!--",
  "<!DOCTYPE x [<!ENTITY a 'b'>]>",
  "&a;",
  "&#0;",
  "&#x110000;",
  "<?xml version='1.0' encoding='utf-7'?>",
  "</trkpt>",
  "<trkpt lat='91' lon='181'>",
  "<time>0000-00-00T00:00:00Z</time>",
  "2026-02-30T25:61:61Z",
  "9999-12-31T23:59:60Z",
  "{",
  "}",
  "[",
  "]",
  "null",
  "true",
  '{"kind":"motion"}',
  '"__proto__":',
  "constructor",
  "\u{1F3C3}",
  "\u{D800}",
  "é",
  "ﬁ",
  "\u202E",
  "RIFF",
  "WAVE",
  "fmt ",
  "data",
  "LIST",
  "SQLite format 3\0",
];

const encoder = new TextEncoder();

/** One mutant of one of `seeds`: one to eight edits, now and then a piece of another seed or a great length. */
export function mutate(seeds: readonly Uint8Array[], random: Random): Uint8Array {
  let bytes = pick(seeds, random);
  const edits = 1 + Math.floor(random.next() ** 3 * 8);
  for (let edit = 0; edit < edits; edit += 1) bytes = EDITS[random.below(EDITS.length)]!(bytes, random, seeds);
  return random.below(INFLATE_ONE_IN) === 0 ? inflate(bytes, random) : bytes;
}

type Edit = (bytes: Uint8Array, random: Random, seeds: readonly Uint8Array[]) => Uint8Array;

const RAW_EDITS: readonly Edit[] = [
  // A bit, a byte, a run of bytes.
  (bytes, random) => changed(bytes, random.below(bytes.length), (byte) => byte ^ (1 << random.below(8))),
  (bytes, random) => changed(bytes, random.below(bytes.length), () => random.below(256)),
  (bytes, random) => {
    const { at, end } = piece(bytes, random);
    const byte = pick([0, 0xff, 0x20, 0x80, random.below(256)], random);
    return bytes.slice().fill(byte, at, end);
  },
  // A 32-bit little-endian number: lengths and rates of binary formats.
  (bytes, random) => {
    const at = random.below(Math.min(bytes.length, 256));
    const value = pick([0, 1, 0x7fffffff, 0xffffffff, 0x80000000, bytes.length, random.below(2 ** 31)], random);
    return splice(bytes, at, at + 4, Uint8Array.of(value, value >>> 8, value >>> 16, value >>> 24));
  },
  // A number in a text.
  (bytes, random) => {
    const found = numberNear(bytes, random.below(bytes.length));
    return found === undefined ? bytes : splice(bytes, found.at, found.end, encoder.encode(pick(NUMBERS, random)));
  },
  (bytes, random) => insert(bytes, random.below(bytes.length + 1), encoder.encode(pick(TEXTS, random))),
  // A piece gone, twice, or elsewhere; a line likewise; cut off.
  (bytes, random) => {
    const { at, end } = piece(bytes, random);
    return splice(bytes, at, end, new Uint8Array(0));
  },
  (bytes, random) => {
    const { at, end } = piece(bytes, random);
    return insert(bytes, random.below(bytes.length + 1), bytes.subarray(at, end));
  },
  (bytes, random) => {
    const { at, end } = lineAt(bytes, random.below(bytes.length));
    return random.below(2) === 0
      ? splice(bytes, at, end, new Uint8Array(0))
      : insert(bytes, lineAt(bytes, random.below(bytes.length)).at, bytes.subarray(at, end));
  },
  (bytes, random) => bytes.slice(0, random.below(bytes.length + 1)),
  (bytes, random) => bytes.slice(random.below(Math.min(bytes.length, 64) + 1)),
  // The beginning of this and the end of another.
  (bytes, random, seeds) => {
    const other = pick(seeds, random);
    const end = other.subarray(random.below(other.length + 1));
    return splice(bytes, random.below(bytes.length + 1), bytes.length, end);
  },
];

/** An empty file can only grow. */
const EDITS = RAW_EDITS.map(
  (edit): Edit =>
    (bytes, random, seeds) =>
      bytes.length === 0 ? encoder.encode(pick(TEXTS, random)) : edit(bytes, random, seeds),
);

function inflate(bytes: Uint8Array, random: Random): Uint8Array {
  if (bytes.length === 0) return bytes;
  const whole = random.below(2) === 0 ? lineAt(bytes, random.below(bytes.length)) : piece(bytes, random);
  const part = bytes.subarray(whole.at, Math.max(whole.end, whole.at + 1));
  const times = Math.floor(INFLATED_BYTES / Math.max(1, part.length));
  const long = new Uint8Array(part.length * times);
  for (let time = 0; time < times; time += 1) long.set(part, time * part.length);
  return insert(bytes, whole.at, long);
}

function changed(bytes: Uint8Array, at: number, change: (byte: number) => number): Uint8Array {
  const copy = bytes.slice();
  copy[at] = change(copy[at]!);
  return copy;
}

function splice(bytes: Uint8Array, at: number, end: number, put: Uint8Array): Uint8Array {
  const tail = bytes.subarray(Math.min(end, bytes.length));
  const made = new Uint8Array(at + put.length + tail.length);
  made.set(bytes.subarray(0, at));
  made.set(put, at);
  made.set(tail, at + put.length);
  return made;
}

function insert(bytes: Uint8Array, at: number, put: Uint8Array): Uint8Array {
  return splice(bytes, at, at, put);
}

/** Mostly short, now and then most of the file. */
function piece(bytes: Uint8Array, random: Random): { readonly at: number; readonly end: number } {
  const at = random.below(bytes.length);
  return { at, end: Math.min(bytes.length, at + 1 + Math.floor(random.next() ** 4 * bytes.length)) };
}

function lineAt(bytes: Uint8Array, near: number): { readonly at: number; readonly end: number } {
  const at = bytes.lastIndexOf(10, near - 1) + 1;
  const newline = bytes.indexOf(10, Math.max(at, near));
  return { at, end: newline < 0 ? bytes.length : newline + 1 };
}

function numberNear(bytes: Uint8Array, near: number): { readonly at: number; readonly end: number } | undefined {
  const isPart = (byte: number): boolean => (byte >= 48 && byte <= 57) || byte === 45 || byte === 46;
  let at = near;
  while (at < bytes.length && !isPart(bytes[at]!)) at += 1;
  if (at === bytes.length) return undefined;
  let end = at;
  while (end < bytes.length && isPart(bytes[end]!)) end += 1;
  return { at, end };
}

function pick<T>(list: readonly T[], random: Random): T {
  return list[random.below(list.length)]!;
}
