// The link's secret: read once from the address, kept on the phone, taken out of the address bar and the history.

/** The token in an address's fragment, "#token"; undefined when there is none. 20–200 characters of base64url. */
export function tokenIn(hash: string): string | undefined {
  const text = hash.startsWith("#") ? hash.slice(1) : hash;
  return /^[A-Za-z0-9_-]{20,200}$/.test(text) ? text : undefined;
}

export function takeTokenFromAddress(): string | undefined {
  const token = tokenIn(location.hash);
  if (token !== undefined) history.replaceState(history.state, "", location.pathname);
  return token;
}
