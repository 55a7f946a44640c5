// Randomness comes only from a seed that is passed in, so that every result can be made again.

export interface Random {
  /** Uniform on [0, 1). */
  next(): number;
  /** Standard normal. */
  normal(): number;
  /** Integer on [0, below). */
  below(below: number): number;
}

/** xoshiro128** (Blackman & Vigna 2018, public domain reference), seeded through splitmix32. */
export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  const splitmix = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return (z ^ (z >>> 16)) >>> 0;
  };
  let a = splitmix();
  let b = splitmix();
  let c = splitmix();
  let d = splitmix();
  const rotl = (x: number, k: number): number => ((x << k) | (x >>> (32 - k))) >>> 0;
  const nextUint32 = (): number => {
    const result = Math.imul(rotl(Math.imul(b, 5) >>> 0, 7), 9) >>> 0;
    const t = (b << 9) >>> 0;
    c = (c ^ a) >>> 0;
    d = (d ^ b) >>> 0;
    b = (b ^ c) >>> 0;
    a = (a ^ d) >>> 0;
    c = (c ^ t) >>> 0;
    d = rotl(d, 11);
    return result;
  };
  const next = (): number => (nextUint32() * 2 ** 21 + (nextUint32() >>> 11)) / 2 ** 53;
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    // Box–Muller; 1 − u keeps the logarithm finite.
    const radius = Math.sqrt(-2 * Math.log(1 - next()));
    const angle = 2 * Math.PI * next();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return { next, normal, below: (limit) => Math.floor(next() * limit) };
}
