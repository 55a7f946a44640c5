// A message as it will be sent: checked, shown to the coach first, and recognised by its digest when the coach says yes.
import { createHash } from "node:crypto";
import { type Problem, type Result, fail, succeed } from "../../engine/quantities/problem.ts";

export interface MailDraft {
  /** One address; a message goes to one runner. */
  readonly to: string;
  readonly subject: string;
  /** Plain text. */
  readonly text: string;
}

export interface MailPreview extends MailDraft {
  readonly from: string;
  /** Names exactly this sender, recipient, subject and text. Sending asks for it, so that nothing unseen goes out. */
  readonly digest: string;
}

const LONGEST_ADDRESS = 254;
const LONGEST_SUBJECT = 200;
const LONGEST_TEXT = 100_000;
// Stricter than RFC 5321: an unquoted local part and a domain name. No list, no display name, no line end fits.
const ADDRESS =
  /^[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(?:\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+$/;

export function isMailAddress(text: string): boolean {
  return text.length <= LONGEST_ADDRESS && ADDRESS.test(text);
}

/** The checked message as it would go out from `from`, or every problem with it. Nothing is repaired silently. */
export function previewMail(draft: MailDraft, from: string): Result<MailPreview> {
  const problems: Problem[] = [];
  if (!isMailAddress(draft.to))
    problems.push(
      problem(
        "mail-address",
        "to",
        shorten(draft.to),
        "one e-mail address like name@example.org",
        "Correct the address.",
      ),
    );
  if (draft.subject.trim() === "" || draft.subject.length > LONGEST_SUBJECT || /\p{Control}/u.test(draft.subject))
    problems.push(
      problem(
        "mail-subject",
        "subject",
        shorten(draft.subject),
        `one line of 1 to ${LONGEST_SUBJECT} characters`,
        "Shorten it, or take out the line breaks.",
      ),
    );
  if (draft.text.trim() === "" || draft.text.length > LONGEST_TEXT)
    problems.push(
      problem(
        "mail-text",
        "text",
        `${draft.text.length} characters`,
        `1 to ${LONGEST_TEXT} characters`,
        "Write a text, or shorten it.",
      ),
    );
  if (problems.length > 0) return fail(...problems);
  const { to, subject, text } = draft;
  const digest = createHash("sha256")
    .update(JSON.stringify([from, to, subject, text]))
    .digest("hex");
  return succeed({ from, to, subject, text, digest });
}

function problem(code: string, field: string, got: string, expected: string, remedy: string): Problem {
  return { code, where: { field }, got, expected, remedy };
}

function shorten(text: string): string {
  return JSON.stringify(text.length > 60 ? `${text.slice(0, 60)}…` : text);
}
