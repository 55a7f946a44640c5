import { useState } from "react";
import { Button } from "../../ui/controls/button.tsx";
import { NotKept, useKeep } from "../app/not-kept.tsx";
import { useFrame, usePhone } from "../app/use-phone.tsx";
import { sendPain } from "../after/send-after.ts";
import { weekQuestion } from "./week-question.ts";

const CALF_AND_ACHILLES = "calf and Achilles";

/** One tap when all is well; the form when it is not. */
export function WeekCheck() {
  const { phone, go } = useFrame();
  const { today, weekAnswered } = usePhone();
  const { keep, why } = useKeep();
  const [thanks, setThanks] = useState(false);
  if (today === undefined) return null;
  const question = weekQuestion(today, weekAnswered, phone.nowMs());
  if (question === undefined)
    return thanks ? <output className="week-thanks">Thank you. Your coach sees it with the week.</output> : null;
  const allWell = async (): Promise<void> => {
    const place = question === "pain" ? "" : CALF_AND_ACHILLES;
    await sendPain(phone, { score: 0, place, signs: [] }, "");
    setThanks(true);
  };
  return (
    <section className="note week-check">
      <h2>{question === "calf" ? "Calf and Achilles this week?" : "Did anything hurt this week?"}</h2>
      {question === "pain" ? null : <p>Calf and Achilles tendon: sore, or stiff in the morning?</p>}
      <div className="pair">
        <Button big onClick={() => keep(allWell)}>
          {question === "calf" ? "Neither" : "Nothing"}
        </Button>
        <Button big onClick={() => go({ name: "pain" })}>
          {question === "calf" ? "Yes" : "Something"}
        </Button>
      </div>
      <NotKept why={why} />
    </section>
  );
}
