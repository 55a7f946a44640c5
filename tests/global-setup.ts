// What the whole run shares. Browser and database tests find their tools through environment variables set by scripts/test.mjs.
export default function setup(): void {
  process.env["TZ"] = "UTC";
}
