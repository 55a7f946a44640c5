// Once, in plain words: what goes to the coach, why, and how to take it back.
import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { TopBar } from "../app/top-bar.tsx";
import { useFrame, usePhone } from "../app/use-phone.tsx";

export function ConsentScreen() {
  const { phone, screen } = useFrame();
  const { today, consent } = usePhone();
  const [location, setLocation] = useState(consent?.location ?? true);
  const coach = today?.coachNames.length === 1 ? today.coachNames[0] : "your coaches";
  const answer = async (given: boolean): Promise<void> => {
    await phone.consent(given, given && location);
    if (screen.name === "consent") history.back();
  };
  return (
    <>
      <TopBar back={screen.name === "consent"} />
      <main>
        <p className="muted">{today?.groupName}</p>
        <h1 tabIndex={-1}>Hello {today?.name}. What may go to your coach?</h1>
        <dl className="plain-list">
          <dt>What</dt>
          <dd>
            Your counts. From a recorded run: how the phone moved, so that the steps can be seen. How hard it was, what
            hurt, and your notes.
          </dd>
          <dt>Who sees it</dt>
          <dd>
            {coach} and the assistants of your group, on their own server. Nobody else, and nothing is sold or shared.
          </dd>
          <dt>Why</dt>
          <dd>To see whether quicker steps work for you, and to change the plan when they do not.</dd>
          <dt>Taking it back</dt>
          <dd>Any time, here: stop sending, fetch a copy of everything, or delete all of it for good.</dd>
        </dl>
        <label className="check">
          <input type="checkbox" checked={location} onChange={(event) => setLocation(event.currentTarget.checked)} />
          <span>
            Also where I ran. <span className="muted">It gives your speed; without it only the steps are known.</span>
          </span>
        </label>
        <div className="stack">
          <Button kind="go" big onClick={() => void answer(true)}>
            I agree
          </Button>
          <Button big onClick={() => void answer(false)}>
            No, send nothing
          </Button>
        </div>
        <p className="muted small">
          Without it the beat and the count still work; nothing leaves this phone, except when you say that something
          hurts.
        </p>
      </main>
    </>
  );
}
