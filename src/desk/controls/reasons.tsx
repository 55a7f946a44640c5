// Why something is proposed: each reason with its rule and the papers behind it.
import type { Reason } from "../../api/index.ts";
import { curved } from "../../ui/words/typography.ts";

export function Reasons({ reasons }: { readonly reasons: readonly Reason[] }) {
  return (
    <ul className="reasons">
      {reasons.map((reason) => (
        <li key={`${reason.rule} ${reason.text}`}>
          {curved(reason.text)} <span className="rule-id">{reason.rule}</span>
          {reason.sources.length > 0 && (
            <ul className="reason-sources">
              {reason.sources.map((source) => (
                <li key={source.id}>{curved(sourceText(source))}</li>
              ))}
            </ul>
          )}
        </li>
      ))}
    </ul>
  );
}

type Source = Reason["sources"][number];

/** "Willy et al. 2016, title": what is known of a source, in one line; its note where it has no paper. */
function sourceText(source: Pick<Source, "authors" | "year" | "title" | "note" | "kind">): string {
  if (source.authors === null) return source.note;
  const paper = [`${source.authors}${source.year === null ? "" : ` ${source.year}`}`, source.title ?? ""]
    .filter(Boolean)
    .join(", ");
  return source.note === "" ? paper : `${paper}. ${source.note}`;
}
