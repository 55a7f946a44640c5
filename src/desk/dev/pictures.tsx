// A page for looking at the pictures while drawing them. Development only; every number is invented.
import { createRoot } from "react-dom/client";
import "@fontsource-variable/source-sans-3/wght.css";
import "../../ui/style/tokens.css";
import "../../ui/style/base.css";
import "../../ui/pictures/pictures.css";
import { createRandom } from "../../engine/quantities/random.ts";
import { BeforeAfterField } from "../../ui/pictures/before-after-field.tsx";
import type { FieldData, FieldSide } from "../../ui/pictures/before-after-layout.ts";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { ForestAxis, forestDomain, ForestRow } from "../../ui/pictures/forest-row.tsx";
import { LateRunStrip } from "../../ui/pictures/late-run-strip.tsx";
import { SplitBar, splitDomain } from "../../ui/pictures/split-bar.tsx";
import { Staircase } from "../../ui/pictures/staircase.tsx";
import { createFormat } from "../../ui/words/format.ts";

const random = createRandom(7);
const side = (spm: number, low: number, high: number, n: number): FieldSide => {
  const at = (speedMps: number, noise = 0) => ({ speedMps, stepRateSpm: spm * (speedMps / 2.8) ** 0.15 + noise });
  const speed = () => low + (high - low) * random.next();
  return {
    line: Array.from({ length: 12 }, (_, i) => at(low + ((high - low) * i) / 11)),
    runs: Array.from({ length: Math.ceil(n / 6) }, () => at(speed(), 1.4 * random.normal())),
    minutes: Array.from({ length: 3 * n }, () => at(speed(), 1.8 * random.normal())),
  };
};
const before = side(153, 2.45, 3.1, 26);
const after = side(160, 2.5, 3.25, 26);
const words = {
  title: "Step rate over speed, before and after",
  before: "before",
  after: "after",
  target: "target",
  stepRate: "steps a minute",
  speed: "pace",
  faster: "faster",
  interval: (low: string, high: string) => `95 % sure: ${low} to ${high}`,
};
const fields: Record<string, FieldData> = {
  changed: {
    before,
    after,
    target: { lowSpm: 158, highSpm: 163, speedMps: 2.8, exponent: 0.15 },
    gap: { speedMps: 2.8, changeSpm: 7, interval95: { low: 4, high: 10 } },
  },
  faster: {
    before,
    after: side(153.4, 2.8, 3.4, 20),
    gap: { speedMps: 2.95, changeSpm: 0.4, interval95: { low: -2, high: 3 } },
  },
  baseline: { before, target: { lowSpm: 158, highSpm: 163, speedMps: 2.8, exponent: 0.15 } },
  dropped: {
    before,
    after: side(149, 2.3, 2.6, 9),
    gap: { speedMps: 2.5, changeSpm: -4, interval95: { low: -7, high: -1 } },
  },
};
const splits = [
  { lnSpeed: 0.003, lnStepRate: 0.042, lnStepLength: -0.039 },
  { lnSpeed: 0.024, lnStepRate: 0.036, lnStepLength: -0.012 },
  { lnSpeed: 0.067, lnStepRate: 0.008, lnStepLength: 0.059 },
  { lnSpeed: -0.03, lnStepRate: -0.012, lnStepLength: -0.018 },
];
const format = createFormat({ locale: "en", feet: "both", speed: "min-per-km" });
const mile = createFormat({ locale: "de", feet: "one", speed: "km-per-h" });

function Gallery() {
  const marks = [
    { estimate: 7, low: 4, high: 10 },
    { estimate: 2, low: -3, high: 7 },
    { estimate: -1, low: -2.5, high: 0.6 },
    { estimate: 4.4, low: 3, high: 5.7 },
  ];
  const domain = forestDomain(marks);
  return (
    <main style={{ padding: "1rem", maxWidth: 900, margin: "0 auto" }}>
      {Object.entries(fields).map(([name, data], i) => (
        <section key={name}>
          <h2>{name}</h2>
          <Fitted>
            {(width) => (
              <BeforeAfterField
                data={data}
                width={width}
                format={i === 1 ? mile : format}
                words={words}
                description={name}
              />
            )}
          </Fitted>
        </section>
      ))}
      <h2>split</h2>
      {splits.map((split) => (
        <Fitted key={split.lnSpeed} maxPx={420}>
          {(width) => <SplitBar split={split} width={width} domain={splitDomain(splits)} description="split" />}
        </Fitted>
      ))}
      <h2>stairs</h2>
      <Fitted>
        {(width) => (
          <Staircase
            width={width}
            title="Plan"
            description="Six stages"
            hereWord="here"
            rateText={format.rateValue}
            stairs={[153, 155, 157, 159, 161, 163].map((stepRateSpm, i) => ({
              stepRateSpm,
              label: `week ${i + 1}`,
              state: i < 3 ? "done" : i === 3 ? "here" : "ahead",
            }))}
          />
        )}
      </Fitted>
      <Fitted>
        {(width) => (
          <Staircase
            width={width}
            title="Plan"
            description="Twelve stages"
            hereWord="here"
            rateText={format.rateValue}
            stairs={Array.from({ length: 12 }, (_, i) => ({
              stepRateSpm: 150 + 2 * i - (i > 5 ? 2 : 0),
              label: `wk ${i + 1}`,
              state: i < 7 ? "done" : i === 7 ? "here" : "ahead",
            }))}
          />
        )}
      </Fitted>
      <h2>late</h2>
      <Fitted>
        {(width) => (
          <LateRunStrip
            width={width}
            title="Late"
            description="late"
            rateText={format.rateValue}
            minutesText={(m) => `${m} min`}
            data={{
              points: Array.from({ length: 60 }, (_, i) => ({
                timeS: 300 + 30 * i,
                adjustedSpm: 160 - i * 0.05 + random.normal(),
              })),
              firstThirdSpm: 159.6,
              lastThirdSpm: 157.4,
            }}
          />
        )}
      </Fitted>
      <h2>forest</h2>
      {marks.map((mark) => (
        <Fitted key={mark.estimate} maxPx={420}>
          {(width) => <ForestRow mark={mark} domain={domain} width={width} smallestWorthwhile={2} kind="runner" />}
        </Fitted>
      ))}
      <Fitted maxPx={420}>
        {(width) => (
          <ForestRow
            mark={{ estimate: 3.4, low: 2, high: 4.8 }}
            domain={domain}
            width={width}
            smallestWorthwhile={2}
            kind="group"
          />
        )}
      </Fitted>
      <Fitted maxPx={420}>
        {(width) => <ForestAxis domain={domain} width={width} text={(v) => format.rateChangeValue(v)} />}
      </Fitted>
    </main>
  );
}

const app = document.getElementById("app");
if (app) createRoot(app).render(<Gallery />);
