// Texts that have no file: the bundled books, and the page of each finding.

import * as vscode from 'vscode';

/** Whoever can ask the server. */
interface Asked {
  request<T>(method: string, params: unknown): Promise<T>;
}

const SCHEME = 'trug';

/** Fills the addresses trug:/book/… and trug:/why/…, which the server's answers lead to. */
export class WrittenTexts implements vscode.TextDocumentContentProvider {
  private constructor(private readonly server: Asked) {}

  static register(server: Asked): vscode.Disposable {
    return vscode.workspace.registerTextDocumentContentProvider(SCHEME, new WrittenTexts(server));
  }

  async provideTextDocumentContent(uri: vscode.Uri): Promise<string> {
    const content = await this.server.request<{ text: string } | null>('workspace/textDocumentContent', {
      uri: uri.toString(true),
    });
    if (!content) throw new Error(`there is no text ${uri.toString(true)}`);
    return content.text;
  }
}

/** Shows the page of a finding beside the text: drawn where the editor can draw it, else as it is written. */
export async function showWhy(code: string): Promise<void> {
  const uri = vscode.Uri.from({ scheme: SCHEME, path: `/why/${code}.md` });
  const document = await vscode.workspace.openTextDocument(uri);
  try {
    await vscode.commands.executeCommand('markdown.showPreviewToSide', uri);
  } catch {
    await vscode.window.showTextDocument(document, { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true });
  }
}
