// The pages beside the text: plans, analyses and least costs, each kept up to date with the text it is of.

import * as vscode from 'vscode';

import { Page, type Ask } from './page';

/** The server's commands that answer with a page. */
const KINDS = { 'trug.plan': 'Plan', 'trug.analyse': 'Analysis', 'trug.balance': 'Least cost' } as const;
export type Kind = keyof typeof KINDS;

export function isKind(command: string): command is Kind {
  return Object.hasOwn(KINDS, command);
}

export class Pages implements vscode.Disposable {
  /** Asks the server for a page; set by whoever knows it. */
  ask: (kind: Kind, uri: vscode.Uri, ration: string | undefined) => Promise<string> = () =>
    Promise.reject(new Error('the server is not running'));
  private readonly open = new Map<string, Page>();

  /** Shows a page beside the text; one that is open already comes to the front. Without a ration, all of the text. */
  async show(kind: Kind, uri: vscode.Uri, ration: string | undefined): Promise<void> {
    const key = JSON.stringify([kind, uri.toString(), ration]);
    let page = this.open.get(key);
    if (page) {
      page.reveal();
    } else {
      const title = `${KINDS[kind]}: ${ration ?? nameOf(uri)}`;
      const ask: Ask = () => this.ask(kind, uri, ration);
      page = new Page(uri, title, ask, () => this.open.delete(key));
      this.open.set(key, page);
    }
    await page.refresh();
  }

  /** The page in front, if one is. */
  get front(): Page | undefined {
    return [...this.open.values()].find((page) => page.isFront);
  }

  /** A text, or one it uses, has changed. */
  refresh(uri: vscode.Uri): void {
    for (const page of this.open.values()) {
      if (page.uri.toString() === uri.toString()) void page.refresh();
    }
  }

  refreshAll(): void {
    for (const page of this.open.values()) void page.refresh();
  }

  /** Nobody keeps the pages up to date any more. */
  markStill(): void {
    for (const page of this.open.values()) page.markStill();
  }

  dispose(): void {
    for (const page of [...this.open.values()]) page.dispose();
  }
}

function nameOf(uri: vscode.Uri): string {
  return uri.path.slice(uri.path.lastIndexOf('/') + 1);
}
