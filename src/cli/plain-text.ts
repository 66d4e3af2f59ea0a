/** A path as part of a line: a name may hold line ends too. */
export function plainPath(path: string): string {
  return path.replace(/\p{Cc}/gu, '?');
}

/** Names from a file go to the terminal as text, never as orders to it: control characters become `?`. */
export function plainText(text: string): string {
  return text.replace(/[^\P{Cc}\n\t]/gu, '?');
}
