import type { Session } from "../../engine/session/session.ts";
import { phoneRows } from "./session-words.ts";

/** One line a block; a filled mark where the beat sounds, a hollow one where it does not. */
export function SessionRows({ session }: { readonly session: Session }) {
  return (
    <ol className="blocks">
      {phoneRows(session).map((group, index) => (
        // oxlint-disable-next-line react/no-array-index-key -- the order is the identity of a block
        <li key={index} className={group.length > 1 ? "blocks-group" : undefined}>
          {group.length > 1 ? <span className="blocks-times">{group[0]?.times} ×</span> : null}
          <ol>
            {group.map((row) => (
              <li key={row.what}>
                <span className={row.sounds ? "mark-on" : "mark-off"} aria-hidden="true" />
                <span>{row.what}</span>
                <span className="blocks-length">{row.length}</span>
              </li>
            ))}
          </ol>
        </li>
      ))}
    </ol>
  );
}
