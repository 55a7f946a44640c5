/** The one-time code behind the # of a printed address; taken out of the address bar so that it is not kept in the history. */
export function takeHashCode(): string {
  const code = decodeURIComponent(location.hash.slice(1)).replace(/^code=/, "");
  if (code !== "") history.replaceState(null, "", location.pathname);
  return code;
}
