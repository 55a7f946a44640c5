import { Button } from "../../ui/controls/button.tsx";
import { useFrame, usePhone } from "./use-phone.tsx";
import { TopBar } from "./top-bar.tsx";

/** Nobody's page yet: no link, a link that is not reached, or one that was ended. */
export function NoLink() {
  const { phone } = useFrame();
  const { hasLink, asking, trouble } = usePhone();
  return (
    <>
      <TopBar />
      <main>
        {!hasLink ? (
          <>
            <h1 tabIndex={-1}>Open your own link</h1>
            <p>Your coach sends you a link or shows you a square to scan. It opens this page with your sessions.</p>
            <p>There is no account and nothing to install.</p>
          </>
        ) : trouble === "link-ended" ? (
          <>
            <h1 tabIndex={-1}>This link has ended</h1>
            <p>
              Ask your coach for a new one. Whatever this phone still holds stays here and goes out with the new link.
            </p>
          </>
        ) : asking ? (
          <h1 tabIndex={-1}>One moment</h1>
        ) : (
          <>
            <h1 tabIndex={-1}>No connection yet</h1>
            <p>The first time, this page has to reach your coach's server. After that it works without a signal.</p>
            <Button kind="go" big onClick={() => void phone.refresh()}>
              Try again
            </Button>
          </>
        )}
      </main>
    </>
  );
}
