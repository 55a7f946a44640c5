// Ids that sort by time, made by whoever creates the thing.

/** UUID version 7 (RFC 9562 section 5.7) from UTC milliseconds and at least 10 random bytes. */
export function newId(nowMs: number, randomBytes: Uint8Array): string {
  if (randomBytes.length < 10)
    throw new RangeError(`newId: randomBytes must hold at least 10 bytes, got ${randomBytes.length}`);
  const bytes = new Uint8Array(16);
  let rest = Math.floor(nowMs);
  for (let index = 5; index >= 0; index -= 1) {
    bytes[index] = rest % 256;
    rest = Math.floor(rest / 256);
  }
  bytes.set(randomBytes.subarray(0, 10), 6);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x70;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}
