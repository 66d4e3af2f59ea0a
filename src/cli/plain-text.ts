/** Names from a file go to the terminal as text, never as orders to it: control characters become `?`. */
export function plainText(text: string): string {
  return text.replace(/[^\P{Cc}\n\t]/gu, '?');
}
