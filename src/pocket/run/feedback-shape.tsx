// A shape for each word: the two bars of the beat, as long and as far apart as the steps should be.
import type { Feedback } from "./feedback.ts";

const bars: Readonly<Record<Feedback, readonly (readonly [number, number])[]>> = {
  // Shorter and closer, three where two were.
  quicker: [
    [20, 26],
    [57, 26],
    [94, 26],
  ],
  // Longer and further apart.
  slower: [
    [2, 56],
    [82, 56],
  ],
  "on-it": [
    [20, 44],
    [76, 44],
  ],
  shorter: [
    [36, 30],
    [74, 30],
  ],
};

export function FeedbackShape({ feedback }: { readonly feedback: Feedback }) {
  return (
    <svg className="shape" viewBox="0 0 140 24" width="140" height="24" aria-hidden="true">
      {bars[feedback].map(([x, width]) => (
        <rect key={x} x={x} y="4" width={width} height="16" />
      ))}
      {/* Two points that press the long step together. */}
      {feedback === "shorter" ? <path d="M4 2l18 10-18 10zM136 2l-18 10 18 10z" /> : null}
    </svg>
  );
}
