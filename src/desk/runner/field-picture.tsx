// The before/after field with its words, its numbers in a table, and what to do while it is empty.
import { useState } from "react";
import { BeforeAfterField, fieldRows } from "../../ui/pictures/before-after-field.tsx";
import { along, bandAt, type FieldData } from "../../ui/pictures/before-after-layout.ts";
import { Fitted } from "../../ui/pictures/fitted.tsx";
import { speedTicks } from "../../ui/pictures/ticks.ts";
import { type Format, intervalDigits } from "../../ui/words/format.ts";
import { curved } from "../../ui/words/typography.ts";
import { HelpMark } from "../controls/help-mark.tsx";
import { runnerWords } from "../strings/runner.ts";

const words = runnerWords.field;

export interface FieldPictureProps {
  readonly data: FieldData;
  readonly format: Format;
  readonly borrowed: readonly string[];
  readonly warnings: readonly string[];
}

export function FieldPicture({ data, format, borrowed, warnings }: FieldPictureProps) {
  if (!data.before && !data.after) {
    return (
      <section aria-label={words.heading}>
        <p className="empty">{words.empty}</p>
      </section>
    );
  }
  return (
    <figure className="figure">
      <figcaption className="visually-hidden">{words.title}</figcaption>
      <Fitted maxPx={760}>
        {(width) => (
          <BeforeAfterField
            data={data}
            width={width}
            format={format}
            words={{
              ...words,
              stepRate: format.reading.feet === "one" ? words.stepRateAxisOne : words.stepRateAxis,
              speed: format.reading.speed === "km-per-h" ? words.speed : words.pace,
            }}
            description={describeField(data, format)}
          />
        )}
      </Fitted>
      <FieldTable data={data} format={format} />
      {warnings.map((sentence) => (
        <p key={sentence} className="muted small">
          {curved(sentence)}
        </p>
      ))}
      {borrowed.length > 0 && (
        <p className="muted small">
          {words.borrowed}: {curved(borrowed.join(" "))} <HelpMark topic="borrowed" />
        </p>
      )}
    </figure>
  );
}

/** The picture in sentences. */
export function describeField(data: FieldData, format: Format): string {
  const { before, after, gap, target } = data;
  const at =
    gap?.speedMps ??
    before?.runs[0]?.speedMps ??
    target?.speedMps ??
    before?.line[0]?.speedMps ??
    after?.line[0]?.speedMps;
  if (at === undefined) return "";
  const digits = gap && intervalDigits(gap.interval95.low, gap.interval95.high);
  return [
    before ? words.beforeIs(format.rate(along(before.line, at)), format.speed(at)) : "",
    after ? words.afterIs(format.rate(along(after.line, at))) : "",
    gap
      ? words.changeIs(
          format.rateChange(gap.changeSpm, digits),
          format.rateChangeValue(gap.interval95.low, digits),
          format.rateChangeValue(gap.interval95.high, digits),
        )
      : "",
    target ? words.targetIs(format.rateValue(bandAt(target, at).low), format.rate(bandAt(target, at).high)) : "",
  ]
    .filter(Boolean)
    .join(" ");
}

function FieldTable({ data, format }: { readonly data: FieldData; readonly format: Format }) {
  const [open, setOpen] = useState(false);
  const sides = [data.before, data.after].filter((side) => side !== undefined);
  const run = sides.flatMap((side) => side.line.map((point) => point.speedMps));
  const low = Math.min(...run);
  const high = Math.max(...run);
  const speeds = speedTicks(low, high, (v) => ((v - low) / (high - low)) * 600, 90, format.reading.speed).map(
    (tick) => tick.value,
  );
  return (
    <details className="no-print" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.numbers}</summary>
      {open && (
        <table className="table narrow-table">
          <thead>
            <tr>
              <th scope="col">{words.at}</th>
              <th scope="col" className="num">
                {words.before}
              </th>
              <th scope="col" className="num">
                {words.after}
              </th>
            </tr>
          </thead>
          <tbody>
            {fieldRows(data, speeds).map((row) => (
              <tr key={row.speedMps}>
                <th scope="row">{format.speed(row.speedMps)}</th>
                <td className="num">{row.beforeSpm === undefined ? "–" : format.rate(row.beforeSpm)}</td>
                <td className="num">{row.afterSpm === undefined ? "–" : format.rate(row.afterSpm)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </details>
  );
}
