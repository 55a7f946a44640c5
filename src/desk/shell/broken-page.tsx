// When a screen fails to load or to draw: say so, and offer the way back. Usually the app was updated while it was open.
import { Button } from "../../ui/controls/button.tsx";
import { commonWords } from "../strings/common.ts";

export function BrokenPage() {
  return (
    <main id="page" tabIndex={-1} className="page">
      <p role="alert">{commonWords.unexpected}</p>
      <div className="row">
        <Button kind="go" onClick={() => location.reload()}>
          {commonWords.reload}
        </Button>
        <a className="button" href="/">
          {commonWords.back}
        </a>
      </div>
    </main>
  );
}
