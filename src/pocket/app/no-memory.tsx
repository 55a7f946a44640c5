/** A private window, or a phone without a single free byte: nothing could be kept, so nothing is begun. */
export function NoMemory({ because }: { readonly because: string }) {
  return (
    <main>
      <h1>This page cannot keep anything here</h1>
      <p>
        A run could be lost, so it does not start. Open the link in a normal window, not a private one, and see that the
        phone has some free space.
      </p>
      <p className="muted small">{because}</p>
    </main>
  );
}
