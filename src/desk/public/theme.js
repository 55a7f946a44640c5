// Before the first paint, so that a dark room is never lit up: apply the remembered theme.
try {
  const theme = localStorage.getItem("spondee-theme");
  if (theme === "light" || theme === "dark") document.documentElement.dataset.theme = theme;
} catch {
  // Storage may be forbidden; the system's own preference then decides.
}
