/** Two equal beats: a spondee. */
export function Mark() {
  return (
    <svg className="brand-mark" width="38" height="8" viewBox="0 0 38 8" aria-hidden="true">
      <path d="M0 1h17v6H0zM21 1h17v6H21z" />
    </svg>
  );
}
