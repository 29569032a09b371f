// Where the program is: the setting trug.path, made out.

import { homedir } from 'node:os';
import { isAbsolute, join } from 'node:path';
import * as vscode from 'vscode';

/** A name without a folder is left to the search path. */
export function program(): string {
  const said = vscode.workspace.getConfiguration('trug').get<string>('path', 'trug').trim() || 'trug';
  if (said.startsWith('~/')) return join(homedir(), said.slice(2));
  const hasFolder = said.includes('/') || said.includes('\\');
  const first = vscode.workspace.workspaceFolders?.[0];
  if (hasFolder && !isAbsolute(said) && first) return join(first.uri.fsPath, said);
  return said;
}
