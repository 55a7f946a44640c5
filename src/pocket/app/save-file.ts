/** Hands a file to the browser's own downloads. */
export function saveFile(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  // Some browsers read it only after a question to the person.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
