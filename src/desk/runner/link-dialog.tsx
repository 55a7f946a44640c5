// The runner's own link: made here, shown once, taken back at any time.
import { useQuery } from "@tanstack/react-query";
import { useMemo, useState } from "react";
import { encode } from "uqr";
import { Button } from "../../ui/controls/button.tsx";
import { DeskDialog } from "../controls/dialog.tsx";
import { Loaded } from "../controls/loaded.tsx";
import { api, makeId } from "../data/client.ts";
import { useNotices } from "../data/notices.tsx";
import { linksQuery } from "../data/queries.ts";
import { useFormat } from "../data/use-format.ts";
import { useSave } from "../data/use-save.ts";
import { runnerWords } from "../strings/runner.ts";

const words = runnerWords.links;

export function LinkDialog({
  groupId,
  runnerId,
  onClose,
}: {
  readonly groupId: string;
  readonly runnerId: string;
  readonly onClose: () => void;
}) {
  const format = useFormat(groupId);
  const links = useQuery(linksQuery(runnerId));
  const notices = useNotices();
  const [fresh, setFresh] = useState<string>();
  const make = useSave({
    save: () =>
      api.call("PUT /api/runners/:runnerId/links/:linkId", { params: { runnerId, linkId: makeId() }, body: {} }),
    done: (made) => setFresh(new URL(made.address, location.origin).href),
  });
  const revoke = useSave({
    save: (linkId: string) => api.call("DELETE /api/runners/:runnerId/links/:linkId", { params: { runnerId, linkId } }),
    said: () => words.revokedSaid,
    done: () => setFresh(undefined),
  });
  return (
    <DeskDialog title={words.title} open onClose={onClose} wide>
      <div className="stack">
        <p>{words.lead}</p>
        {fresh === undefined ? (
          <div>
            <Button kind="go" disabled={make.isPending} onClick={() => make.mutate(undefined)}>
              {words.make}
            </Button>
          </div>
        ) : (
          <div className="link-fresh">
            <SquareCode text={fresh} />
            <div className="stack">
              <p>
                <strong>{words.shownOnce}</strong>
              </p>
              <input
                className="input"
                readOnly
                value={fresh}
                aria-label={words.title}
                onFocus={(event) => event.target.select()}
              />
              <div>
                <Button
                  onClick={() => {
                    navigator.clipboard
                      .writeText(fresh)
                      .then(() => notices.say(words.copied))
                      .catch(() => undefined);
                  }}
                >
                  {words.copy}
                </Button>
              </div>
              <p className="muted small">{words.secure}</p>
            </div>
          </div>
        )}
        <Loaded query={links}>
          {({ items }) => (
            <ul className="lines">
              {items.map((link) => (
                <li key={link.id} className="line">
                  <span className="line-when">{format.dateShort(link.createdAt)}</span>
                  <span>
                    {link.live ? words.live : link.revokedAt === null ? words.expired : words.revoked},{" "}
                    {words.until(format.date(link.expiresAt))},{" "}
                    {link.lastUsedAt === null ? words.neverUsed : words.lastUsed(format.dateTime(link.lastUsedAt))}
                  </span>
                  {link.live && (
                    <Button kind="quiet" disabled={revoke.isPending} onClick={() => revoke.mutate(link.id)}>
                      {words.revoke}
                    </Button>
                  )}
                </li>
              ))}
            </ul>
          )}
        </Loaded>
      </div>
    </DeskDialog>
  );
}

/** Always dark on light with its quiet border: cameras need it so, whatever the theme. */
function SquareCode({ text }: { readonly text: string }) {
  const path = useMemo(() => {
    const { data, size } = encode(text, { ecc: "M", border: 2 });
    const dark = data.flatMap((row, y) => row.flatMap((on, x) => (on ? [`M${x},${y}h1v1h-1z`] : [])));
    return { d: dark.join(""), size };
  }, [text]);
  return (
    <svg
      className="square-code"
      viewBox={`0 0 ${path.size} ${path.size}`}
      role="img"
      aria-label={words.qrAlt}
      shapeRendering="crispEdges"
    >
      <rect width={path.size} height={path.size} className="square-code-ground" />
      <path d={path.d} className="square-code-ink" />
    </svg>
  );
}
