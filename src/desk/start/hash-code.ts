// The printed addresses carry a one-time code behind the #, which no server log ever sees: /#code=… signs in, /#setup=… sets up.

export type HashCode = { readonly kind: "sign-in" | "set-up"; readonly code: string } | undefined;

/** Pure: what an address fragment asks for. */
export function readHash(hash: string): HashCode {
  const match = /^#(code|setup)=(.+)$/.exec(hash);
  if (!match) return undefined;
  return { kind: match[1] === "code" ? "sign-in" : "set-up", code: decodeURIComponent(match[2] ?? "") };
}

let taken: HashCode;

/** Reads the code once and takes it out of the address bar, so that it is kept in no history. */
export function takeHashCode(): HashCode {
  const found = readHash(location.hash);
  if (found) {
    taken = found;
    history.replaceState(history.state, "", location.pathname);
  }
  return taken;
}

/** Used up, or no longer wanted. */
export function forgetHashCode(): void {
  taken = undefined;
}
