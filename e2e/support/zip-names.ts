/** Names in the central directory (APPNOTE 6.3, ZIP file format specification). */
export function zipNames(zip: Buffer): string[] {
  const end = zip.lastIndexOf("PK\u0005\u0006", undefined, "latin1");
  const names: string[] = [];
  let at = zip.readUInt32LE(end + 16);
  for (let left = zip.readUInt16LE(end + 10); left > 0; left -= 1) {
    const length = zip.readUInt16LE(at + 28);
    names.push(zip.toString("utf8", at + 46, at + 46 + length));
    at += 46 + length + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return names;
}
