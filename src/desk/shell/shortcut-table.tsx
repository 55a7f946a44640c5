import { shortcutList } from "../strings/common.ts";

export function ShortcutTable() {
  return (
    <dl className="facts">
      {shortcutList.map((one) => (
        <div key={one.does} className="facts-row">
          <dt>
            {one.keys.map((key) => (
              <span key={key}>
                <kbd>{key}</kbd>{" "}
              </span>
            ))}
          </dt>
          <dd>{one.does}</dd>
        </div>
      ))}
    </dl>
  );
}
