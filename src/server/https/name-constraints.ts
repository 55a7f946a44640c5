// What an authority may vouch for, in DER (RFC 5280, section 4.2.1.10): names and address ranges, nothing else. A phone that
// trusts it trusts it for this machine's names and for addresses of local networks, and for no site of the wide world.

/** An address range: the address and as many leading one bits as the network has. */
export interface AddressRange {
  readonly address: string;
  readonly prefix: number;
}

/** RFC 1918, loopback and link-local (RFC 3927, RFC 4291), unique local (RFC 4193). */
export const LOCAL_RANGES: readonly AddressRange[] = [
  { address: "10.0.0.0", prefix: 8 },
  { address: "172.16.0.0", prefix: 12 },
  { address: "192.168.0.0", prefix: 16 },
  { address: "169.254.0.0", prefix: 16 },
  { address: "127.0.0.0", prefix: 8 },
  { address: "::1", prefix: 128 },
  { address: "fc00::", prefix: 7 },
  { address: "fe80::", prefix: 10 },
];

/** The extension's value: permittedSubtrees with the given DNS names (and all below them) and ranges. */
export function nameConstraints(dnsNames: readonly string[], ranges: readonly AddressRange[]): Uint8Array<ArrayBuffer> {
  const bases = [
    ...dnsNames.map((name) => der(0x82, [...new TextEncoder().encode(name)])),
    ...ranges.map((range) => {
      const address = addressBytes(range.address);
      return der(0x87, [...address, ...maskBytes(range.prefix, address.length)]);
    }),
  ];
  return Uint8Array.from(
    der(
      0x30,
      der(
        0xa0,
        bases.flatMap((base) => der(0x30, base)),
      ),
    ),
  );
}

/** Is the address in one of the ranges? */
export function inRanges(address: string, ranges: readonly AddressRange[]): boolean {
  const bytes = addressBytes(address);
  return ranges.some((range) => {
    const base = addressBytes(range.address);
    if (base.length !== bytes.length) return false;
    const mask = maskBytes(range.prefix, base.length);
    return bytes.every((byte, index) => (byte & (mask[index] ?? 0)) === ((base[index] ?? 0) & (mask[index] ?? 0)));
  });
}

/** 4 or 16 bytes. IPv6 with at most one "::", without a zone and without a dotted tail. */
export function addressBytes(address: string): readonly number[] {
  if (!address.includes(":")) return address.split(".").map(Number);
  const [head = "", tail] = address.split("::");
  const groups = (text: string): number[] => (text === "" ? [] : text.split(":").map((group) => parseInt(group, 16)));
  const first = groups(head);
  const last = tail === undefined ? [] : groups(tail);
  const all = [...first, ...Array.from({ length: 8 - first.length - last.length }, () => 0), ...last];
  return all.flatMap((group) => [group >> 8, group & 0xff]);
}

function maskBytes(prefix: number, length: number): readonly number[] {
  return Array.from({ length }, (_, index) => {
    const bits = Math.min(8, Math.max(0, prefix - 8 * index));
    return (0xff << (8 - bits)) & 0xff;
  });
}

function der(tag: number, content: readonly number[]): readonly number[] {
  const { length } = content;
  const size = length < 128 ? [length] : length < 256 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return [tag, ...size, ...content];
}
