// Which ration the cursor is in.

const HEADER = /^(\p{L}+)\s+(\p{L}[\p{L}\p{M}\p{Nd}\u200c\u200d-]*)/u;

/** What is asked of a document; the editor's own fits. */
export interface Lines {
  lineAt(line: number): { text: string };
}

/** The name of the ration that a line belongs to, if it belongs to one. Items begin at the margin. */
export function rationAt(document: Lines, line: number): string | undefined {
  for (let above = line; above >= 0; above -= 1) {
    const { text } = document.lineAt(above);
    if (/^[^\s#]/u.test(text)) {
      const [, word, name] = HEADER.exec(text) ?? [];
      return word?.toLowerCase() === 'ration' ? name : undefined;
    }
  }
  return undefined;
}
