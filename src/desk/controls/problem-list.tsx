import { sentencesOf } from "../data/problems.ts";

/** What went wrong with a form, read out at once. */
export function ProblemList({ error }: { readonly error: unknown }) {
  if (error === null || error === undefined) return null;
  return (
    <div role="alert" className="notice">
      {sentencesOf(error).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </div>
  );
}
