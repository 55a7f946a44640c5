import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { createFormat } from "../words/format.ts";
import { BeforeAfterField, fieldRows } from "./before-after-field.tsx";
import { type FieldData, layoutField } from "./before-after-layout.ts";
import { forestDomain, forestX, ForestRow } from "./forest-row.tsx";
import { LateRunStrip } from "./late-run-strip.tsx";
import { layoutSplit, SplitBar, splitDomain } from "./split-bar.tsx";
import { layoutStairs, type Stair, Staircase } from "./staircase.tsx";

const reading = { locale: "en", feet: "both", speed: "min-per-km" } as const;
const format = createFormat(reading);
const power = (spm: number, low = 2.4, high = 3.1) =>
  Array.from({ length: 9 }, (_, i) => {
    const speedMps = low + ((high - low) * i) / 8;
    return { speedMps, stepRateSpm: spm * (speedMps / 2.8) ** 0.15 };
  });
const before = {
  line: power(153),
  runs: [{ speedMps: 2.8, stepRateSpm: 153 }],
  minutes: [{ speedMps: 2.7, stepRateSpm: 152 }],
};
const after = { line: power(160), runs: [{ speedMps: 2.9, stepRateSpm: 161 }], minutes: [] };
const data: FieldData = {
  before,
  after,
  target: { lowSpm: 158, highSpm: 162, speedMps: 2.8, exponent: 0.15 },
  gap: { speedMps: 2.8, changeSpm: 7, interval95: { low: 4, high: 10 } },
};
const words = {
  title: "Before and after",
  before: "before",
  after: "after",
  target: "target",
  stepRate: "steps a minute",
  speed: "pace",
  faster: "faster",
  interval: (low: string, high: string) => `95 % sure: ${low} to ${high}`,
};

describe("before/after field", () => {
  it("closed form: the gap's stroke is as long as the change on the axis", () => {
    const field = layoutField(data, 560, reading);
    const spmPx = (field.y(150) - field.y(160)) / 10;
    expect(field.gap!.fromY - field.gap!.toY).toBeCloseTo(7 * spmPx, 6);
    expect(field.gap!.lowY - field.gap!.highY).toBeCloseTo(6 * spmPx, 6);
    expect(field.gap!.fromY).toBeCloseTo(field.y(153), 6);
  });

  it("closed form: a runner who only ran faster stays on the old line", () => {
    const faster = { ...before, line: power(153, 2.8, 3.1) };
    const rows = fieldRows({ before, after: faster }, [2.8, 3]);
    for (const row of rows) {
      expect(row.afterSpm).toBeCloseTo(row.beforeSpm!, 9);
      expect(row.beforeSpm).toBeCloseTo(153 * (row.speedMps / 2.8) ** 0.15, 9);
    }
    expect(fieldRows({ before, after: faster }, [2.5])[0]?.afterSpm).toBeUndefined();
  });

  it.each([320, 360, 480, 640, 900])(
    "everything lies inside a picture %i px wide, and no tick hides the reference pace",
    (width) => {
      for (const speed of [2.41, 2.8, 3.09]) {
        const field = layoutField({ ...data, gap: { ...data.gap!, speedMps: speed } }, width, reading);
        for (const tick of field.rateTicks) {
          expect(tick.position).toBeGreaterThan(field.box.top - 1);
          expect(tick.position).toBeLessThan(field.box.bottom + 1);
        }
        for (const tick of field.speedTicks) expect(Math.abs(tick.position - field.gap!.x)).toBeGreaterThanOrEqual(44);
        expect(field.gap!.flagX - 84).toBeGreaterThanOrEqual(90);
        expect(field.gap!.flagX + 84).toBeLessThanOrEqual(width);
        expect(field.gap!.ruleX1).toBeLessThanOrEqual(field.gap!.x);
        expect(field.gap!.ruleX2).toBeGreaterThanOrEqual(field.gap!.x);
        const ys = field.labels.map((label) => label.y).toSorted((a, b) => a - b);
        for (let i = 1; i < ys.length; i += 1) expect(ys[i]! - ys[i - 1]!).toBeGreaterThanOrEqual(15 - 1e-9);
      }
    },
  );

  it("a faster speed lies further right, a higher step rate further up", () => {
    const field = layoutField(data, 560, reading);
    expect(field.x(3)).toBeGreaterThan(field.x(2.6));
    expect(field.y(160)).toBeLessThan(field.y(150));
  });

  it("is one image with a name and a description, and prints the change with its interval", () => {
    const html = renderToStaticMarkup(
      <BeforeAfterField
        data={data}
        width={560}
        format={format}
        words={words}
        description="Seven quicker at the same speed."
      />,
    );
    expect(html).toContain('role="img"');
    expect(html).toContain("<desc");
    expect(html).toContain("Seven quicker at the same speed.");
    expect(html).toContain("+7\u00a0spm");
    expect(html).toContain("95 % sure: +4 to +10");
    expect(html).toContain("5:57");
    expect(html).not.toContain("style=");
  });

  it("reads in one foot: ticks and numbers are halves, round in that count", () => {
    const field = layoutField(data, 560, { ...reading, feet: "one" });
    for (const tick of field.rateTicks) {
      expect(tick.value).toBeGreaterThan(70);
      expect(tick.value).toBeLessThan(90);
      expect(tick.position).toBeCloseTo(field.y(2 * tick.value), 6);
    }
  });

  it("draws a baseline alone, and does not fall over with nothing", () => {
    expect(layoutField({ before }, 400, reading).gap).toBeUndefined();
    expect(layoutField({}, 400, reading).labels).toEqual([]);
  });
});

describe("split bar", () => {
  const splits = [
    { lnSpeed: 0.003, lnStepRate: 0.042, lnStepLength: -0.039 },
    { lnSpeed: -0.03, lnStepRate: -0.012, lnStepLength: -0.018 },
    { lnSpeed: 0.067, lnStepRate: 0.008, lnStepLength: 0.059 },
  ];

  it.each(splits)("closed form: the second part ends where the speed is (%o)", (split) => {
    const bar = layoutSplit(split, 400, 0.1);
    const lengthEnd = split.lnStepLength < 0 ? bar.length.x : bar.length.x + bar.length.width;
    expect(lengthEnd).toBeCloseTo(bar.speedX, 6);
    // 0.1 spans from the middle to 6 px inside the edge: 194 px.
    expect(bar.speedX - bar.zeroX).toBeCloseTo((split.lnSpeed / 0.1) * 194, 6);
    expect(bar.rate.width).toBeCloseTo((Math.abs(split.lnStepRate) / 0.1) * 194, 6);
  });

  it("a negative part lies left of zero", () => {
    const bar = layoutSplit(splits[1]!, 400, 0.1);
    expect(bar.rate.x + bar.rate.width).toBeCloseTo(bar.zeroX, 6);
    expect(bar.length.x + bar.length.width).toBeCloseTo(bar.rateEndX, 6);
  });

  it("bars of one list share a range, never narrower than 3 %", () => {
    expect(splitDomain(splits)).toBe(0.067);
    expect(splitDomain([{ lnSpeed: 0.001, lnStepRate: 0.002, lnStepLength: -0.001 }])).toBe(0.03);
    expect(splitDomain([])).toBe(0.03);
  });

  it("says its parts to those who do not see it", () => {
    const html = renderToStaticMarkup(
      <SplitBar split={splits[0]!} width={300} domain={0.1} description="Speed up a little" />,
    );
    expect(html).toContain("Speed up a little");
    expect(html).toContain('role="img"');
  });
});

describe("staircase", () => {
  const stairs = (n: number, here: number): Stair[] =>
    Array.from({ length: n }, (_, i) => ({
      stepRateSpm: 150 + 2 * i,
      label: `week ${i + 1}`,
      state: i < here ? "done" : i === here ? "here" : "ahead",
    }));

  it("closed form: equal rises are equal steps, higher is further up", () => {
    const layout = layoutStairs(stairs(5, 2), 500);
    const rises = layout.treads.slice(1).map((tread, i) => layout.treads[i]!.y - tread.y);
    for (const rise of rises) expect(rise).toBeCloseTo(rises[0]!, 6);
    expect(rises[0]).toBeGreaterThan(0);
  });

  it.each([
    [20, 320, 11],
    [12, 360, 0],
    [6, 900, 5],
  ])("%i stages in %i px: labels keep 40 px between them and the present one is labelled", (n, width, here) => {
    const layout = layoutStairs(stairs(n, here), width);
    expect(layout.treads[here]?.showLabel).toBe(true);
    const shown = layout.treads.filter((tread) => tread.showLabel).map((tread) => (tread.x1 + tread.x2) / 2);
    for (let i = 1; i < shown.length; i += 1) expect(shown[i]! - shown[i - 1]!).toBeGreaterThanOrEqual(39.9);
  });

  it("one stage alone is drawn", () => {
    const html = renderToStaticMarkup(
      <Staircase
        stairs={stairs(1, 0)}
        width={300}
        rateText={String}
        title="Plan"
        description="One stage"
        hereWord="here"
      />,
    );
    expect(html).toContain("week 1, here");
    expect(html).not.toContain("NaN");
  });
});

describe("late-run strip", () => {
  const data = {
    points: [0, 600, 1200].map((timeS, i) => ({ timeS, adjustedSpm: 160 - 2 * i })),
    firstThirdSpm: 160,
    lastThirdSpm: 156,
  };
  const html = renderToStaticMarkup(
    <LateRunStrip
      data={data}
      width={436}
      rateText={(v) => v.toFixed(0)}
      minutesText={String}
      title="Late"
      description="It fell."
    />,
  );

  it("closed form: the axis runs from 36 px to 396 px, so ten minutes of twenty lie at 216 px", () => {
    expect(html).toContain('cx="216"');
    expect(html).toContain('cx="36"');
    expect(html).toContain('cx="396"');
  });

  it("a fall is drawn downwards, and is told in words", () => {
    const levels = [...html.matchAll(/class="p-line-(before|after)"[^>]*y1="([\d.]+)"/g)].map((match) =>
      Number(match[2]),
    );
    expect(levels[1]).toBeGreaterThan(levels[0]!);
    expect(html).toContain("It fell.");
    expect(html).toContain(">156<");
  });
});

describe("forest row", () => {
  it("closed form: zero and the interval's ends sit where the shared axis says", () => {
    const domain = forestDomain([{ estimate: 7, low: 4, high: 10 }]);
    expect(domain).toEqual({ low: -1, high: 11 });
    expect(forestX(-1, domain, 264)).toBe(12);
    expect(forestX(11, domain, 264)).toBe(252);
    expect(forestX(5, domain, 264)).toBe(132);
  });

  it("an interval that holds zero has an open mark", () => {
    const domain = { low: -5, high: 5 };
    const row = (low: number) =>
      renderToStaticMarkup(
        <ForestRow
          mark={{ estimate: 2, low, high: 4 }}
          domain={domain}
          width={300}
          smallestWorthwhile={2}
          kind="runner"
        />,
      );
    expect(row(-1)).toContain("p-box-open");
    expect(row(1)).not.toContain("p-box-open");
  });
});
