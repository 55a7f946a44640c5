// What is read at arm's length. While the beat is off there is no number and no word, so that what the feet do is their own.
import { formatMinutesSeconds } from "../../engine/quantities/units.ts";
import { useFormat } from "../app/use-phone.tsx";
import { blockWords } from "../today/session-words.ts";
import { FEEDBACK_WORDS } from "./feedback.ts";
import { FeedbackShape } from "./feedback-shape.tsx";
import type { RunMoment } from "./run-session.ts";

export function RunFace({ moment, paused }: { readonly moment: RunMoment; readonly paused: boolean }) {
  const format = useFormat();
  const { session, steps, speedMps, feedback, elapsedS } = moment;
  const alone = session?.kind === "cue-off";
  const rate = steps.stepRateSpm === null ? "–" : format.rateValue(Math.round(steps.stepRateSpm));
  return (
    <div className="face">
      <p className="face-block">
        <span>{blockTitle(moment)}</span>
        <span>{alone ? "" : formatMinutesSeconds(session === undefined ? elapsedS : session.leftS)}</span>
      </p>
      {alone && session !== undefined ? (
        <p className="huge">{formatMinutesSeconds(session.leftS)}</p>
      ) : (
        <p className="huge">
          {rate}
          <span className="huge-unit">{format.rateUnit}</span>
        </p>
      )}
      <p className="word">
        {paused
          ? "paused"
          : alone
            ? "on your own"
            : feedback === undefined
              ? quietWord(moment)
              : FEEDBACK_WORDS[feedback]}
      </p>
      <p className="face-shape">
        {feedback === undefined || alone || paused ? null : <FeedbackShape feedback={feedback} />}
      </p>
      <p className="face-small">
        <span>{speedMps === null || alone ? "" : format.speed(speedMps)}</span>
        <span>{session?.next === undefined ? "" : `then ${blockWords(session.next).toLowerCase()}`}</span>
      </p>
    </div>
  );
}

function blockTitle({ session }: RunMoment): string {
  if (session === undefined) return "Recording";
  if (session.kind === "lead-in") return "Get ready";
  if (session.kind === "over") return "That was the session";
  return blockWords(session.kind);
}

/** Never a blank, never a guess. */
function quietWord({ steps, session, hasMotion }: RunMoment): string {
  if (!hasMotion) return session?.beatSpm === undefined ? "" : "step on the beat";
  if (steps.state === "walking") return "walking";
  if (steps.state === "standing") return "standing";
  if (steps.stepRateSpm === null) return "listening for steps";
  return session === undefined || session.beatSpm === undefined ? "easy" : "";
}
