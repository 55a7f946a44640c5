// The session's beat as a sound file: for a phone that goes silent when its screen is dark, or for another player.
import { useState } from "react";
import { listeningCaution } from "../../engine/target/cautions.ts";
import { Button } from "../../ui/controls/button.tsx";
import { saveFile } from "../app/save-file.ts";
import { api } from "../data/client.ts";
import type { Planned } from "./session-words.ts";

const ENDINGS: Readonly<Record<string, string>> = { "audio/flac": "flac", "audio/ogg": "ogg", "audio/wav": "wav" };

export function BeatFile({ planned }: { readonly planned: Planned }) {
  const [said, setSaid] = useState("");
  const [busy, setBusy] = useState(false);
  const fetchIt = async (): Promise<void> => {
    setBusy(true);
    setSaid("");
    try {
      const file = (await api.call("GET /api/runner/track", { query: { sessionId: planned.id } })) as unknown as Blob;
      const kind = file.type.split(";")[0] ?? "";
      saveFile(file, `beat-${planned.on}.${ENDINGS[kind] ?? "audio"}`);
      setSaid("It is among your downloads. Open it with any player.");
    } catch {
      setSaid("The server could not be reached. Try again when there is a connection.");
    }
    setBusy(false);
  };
  return (
    <details>
      <summary>The beat as a file</summary>
      <p>
        For a phone that falls silent when its screen is dark, or for another player. The whole session is in it, with
        the quiet parts; it does not count your steps. Fetch it while there is a connection.
      </p>
      <Button big disabled={busy} onClick={() => void fetchIt()}>
        {busy ? "One moment" : "Get the file"}
      </Button>
      <p className="said" aria-live="polite">
        {said}
      </p>
      <p className="muted small">{listeningCaution}</p>
    </details>
  );
}
