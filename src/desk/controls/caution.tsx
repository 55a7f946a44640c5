import { commonWords } from "../strings/common.ts";

/** Stands wherever advice is given. */
export function Caution({ extra = [] }: { readonly extra?: readonly string[] }) {
  return (
    <aside className="caution" aria-label="Caution">
      <p>{commonWords.caution}</p>
      {extra.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p>{commonWords.stopOnPain}</p>
    </aside>
  );
}
