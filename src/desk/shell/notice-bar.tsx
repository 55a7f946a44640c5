import { Button } from "../../ui/controls/button.tsx";
import { useNotices } from "../data/notices.tsx";
import { commonWords } from "../strings/common.ts";

export function NoticeBar() {
  const { items, dismiss } = useNotices();
  return (
    <output className="notices no-print" aria-live="polite">
      {items.map((notice) => (
        <div key={notice.key} className="notice-item">
          <span>
            {notice.failed === true && <strong aria-hidden="true">! </strong>}
            {notice.text}
          </span>
          {notice.undo && (
            <Button
              kind="quiet"
              onClick={() => {
                dismiss(notice.key);
                notice.undo?.();
              }}
            >
              {commonWords.undo}
            </Button>
          )}
          <Button kind="quiet" aria-label={commonWords.dismiss} onClick={() => dismiss(notice.key)}>
            ×
          </Button>
        </div>
      ))}
    </output>
  );
}
