/** Hands a file to the browser, which puts it where downloads go. */
export function saveFile(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  Object.assign(document.createElement("a"), { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
