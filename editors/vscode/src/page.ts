// One page beside the text. Its HTML is the server's, word for word: it brings its own policy, which allows its own
// style and script by their hashes and nothing else.

import * as vscode from 'vscode';

export type Ask = () => Promise<string>;

/** The kind of panel; package.json names it too. */
const PANEL = 'trug.page';

export class Page implements vscode.Disposable {
  private readonly panel: vscode.WebviewPanel;
  private html = '';
  private isAsking = false;
  private isOld = false;

  constructor(
    readonly uri: vscode.Uri,
    private readonly title: string,
    private readonly ask: Ask,
    closed: () => void,
  ) {
    const where = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    this.panel = vscode.window.createWebviewPanel(PANEL, title, where, {
      enableScripts: true,
      enableFindWidget: true,
      enableForms: true,
      localResourceRoots: [],
    });
    this.panel.onDidDispose(closed);
  }

  get isFront(): boolean {
    return this.panel.active;
  }

  /** The page as it is shown. */
  get content(): string {
    return this.html;
  }

  reveal(): void {
    this.panel.reveal(undefined, true);
  }

  /** Asks for the page again. While an answer is awaited, further changes are asked for once, after it. */
  async refresh(): Promise<void> {
    this.isOld = true;
    if (this.isAsking) return;
    this.isAsking = true;
    try {
      while (this.isOld) {
        this.isOld = false;
        await this.renew();
      }
    } finally {
      this.isAsking = false;
    }
  }

  /** An old plan that looks like a new one would be weighed by. */
  markStill(): void {
    this.put(refusal('the server has stopped, so this page would not follow the text'));
  }

  dispose(): void {
    this.panel.dispose();
  }

  private async renew(): Promise<void> {
    try {
      this.put(await this.ask());
    } catch (error) {
      this.put(refusal(error instanceof Error ? error.message : String(error)));
    }
  }

  /** The same page again is left alone: what is typed into it stays. */
  private put(html: string): void {
    if (html === this.html) return;
    this.html = html;
    this.panel.title = this.title;
    this.panel.webview.html = html;
  }
}

function refusal(why: string): string {
  const safe = why.replace(/[&<>"]/g, (letter) => `&#${letter.charCodeAt(0)};`);
  return `<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'"><title>trug</title></head>
<body><p>There is no page to show: ${safe}.</p></body></html>`;
}
