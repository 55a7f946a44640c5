// How well found contact times match true ones, a constant distance allowed.

export interface ContactScore {
  /** Harmonic mean of the share of found contacts that are true and of true ones that are found. */
  readonly f1: number;
  /** Median of found minus true over the matched pairs. */
  readonly offsetS: number;
}

/** Each true contact is matched once, within ± `toleranceS` after the offset is taken off. Both ascending. */
export function scoreContacts(
  foundS: ArrayLike<number>,
  trueS: ArrayLike<number>,
  options: { readonly toleranceS: number; readonly maxOffsetS: number },
): ContactScore {
  let best: ContactScore = { f1: 0, offsetS: 0 };
  const steps = Math.round(options.maxOffsetS / 0.005);
  for (let k = 0; k <= 2 * steps; k += 1) {
    // From zero outward, so that the smallest of equally good offsets wins.
    const offsetS = 0.005 * (k % 2 === 0 ? k / 2 : -(k + 1) / 2);
    const differences = matchedDifferences(foundS, trueS, offsetS, options.toleranceS);
    const total = foundS.length + trueS.length;
    const f1 = total === 0 ? 1 : (2 * differences.length) / total;
    if (f1 > best.f1) best = { f1, offsetS: differences.toSorted((a, b) => a - b)[differences.length >> 1] ?? 0 };
  }
  return best;
}

function matchedDifferences(
  foundS: ArrayLike<number>,
  trueS: ArrayLike<number>,
  offsetS: number,
  toleranceS: number,
): number[] {
  const differences: number[] = [];
  let f = 0;
  let t = 0;
  while (f < foundS.length && t < trueS.length) {
    const difference = foundS[f]! - trueS[t]!;
    if (Math.abs(difference - offsetS) <= toleranceS) {
      differences.push(difference);
      f += 1;
      t += 1;
    } else if (difference < offsetS) f += 1;
    else t += 1;
  }
  return differences;
}
