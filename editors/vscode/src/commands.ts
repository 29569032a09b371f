// The commands a user can choose.

import * as vscode from 'vscode';

import type { Kind, Pages } from './pages';
import { rationAt } from './rations';
import type { Server } from './server';
import { showWhy } from './texts';

export function registerCommands(server: Server, pages: Pages): vscode.Disposable[] {
  const register = vscode.commands.registerCommand;
  return [
    register('trug.planBeside', () => beside('trug.plan', pages)),
    register('trug.analysisBeside', () => beside('trug.analyse', pages)),
    register('trug.balanceBeside', () => beside('trug.balance', pages)),
    register('trug.whyBeside', () => why()),
    register('trug.savePage', () => save(pages)),
    register('trug.restart', () => server.restart()),
  ];
}

/** The ration the cursor is in, else all rations of the text. */
async function beside(kind: Kind, pages: Pages): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== 'trug') {
    void vscode.window.showInformationMessage('Open a text of the farm first: the page is of its rations');
    return;
  }
  const { document, selection } = editor;
  await pages.show(kind, document.uri, rationAt(document, selection.active.line));
}

/** The page of the finding at the cursor; of several, or where there is none, the one that is chosen. */
async function why(): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  const found = editor ? vscode.languages.getDiagnostics(editor.document.uri).filter(isOurs) : [];
  const here = found.filter(({ range }) => editor && range.intersection(editor.selection));
  const codes = named(here);
  const code = codes.length === 1 ? codes[0] : await choose(codes.length > 0 ? here : found);
  if (code === undefined) return;
  try {
    await showWhy(code);
  } catch {
    void vscode.window.showWarningMessage(`There is no finding ${code}`);
  }
}

async function choose(found: vscode.Diagnostic[]): Promise<string | undefined> {
  const other = 'another code …';
  const items = named(found).map((code) => {
    const first = found.find((one) => codeOf(one) === code);
    return first ? { label: code, description: first.message } : { label: code };
  });
  const chosen = items.length > 0 ? await vscode.window.showQuickPick([...items, { label: other }]) : { label: other };
  if (chosen?.label !== other) return chosen?.label;
  const typed = await vscode.window.showInputBox({ prompt: 'The code of a finding', placeHolder: 'harm/ceiling' });
  return typed?.trim() || undefined;
}

function named(found: vscode.Diagnostic[]): string[] {
  return [...new Set(found.map(codeOf))].sort();
}

function isOurs(one: vscode.Diagnostic): boolean {
  return one.source === 'trug' && codeOf(one) !== '';
}

function codeOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === 'object' ? code.value : (code ?? ''));
}

/** The page in front as a file, to be printed by a browser: a page beside the text cannot print. */
async function save(pages: Pages): Promise<void> {
  const page = pages.front;
  if (!page) return;
  const folder = vscode.Uri.joinPath(page.uri, '..');
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.joinPath(folder, 'page.html'),
    filters: { HTML: ['html'] },
  });
  if (target) await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(page.content));
}
