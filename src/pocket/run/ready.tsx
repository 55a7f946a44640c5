export function ReadyScreen(_props: {
  readonly sessionId?: string;
  readonly runId?: string;
  readonly resumeRunId?: string;
}) {
  return (
    <main>
      <h1 tabIndex={-1}>Soon</h1>
    </main>
  );
}
