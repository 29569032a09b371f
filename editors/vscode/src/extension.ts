// Where the editor starts and ends the extension: everything is put together here, and taken apart again.

import * as vscode from 'vscode';

import { Server } from './server';
import { registerCommands } from './commands';
import { Pages } from './pages';
import { WrittenTexts } from './texts';

let server: Server | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const pages = new Pages();
  server = new Server(pages);
  context.subscriptions.push(pages, server.output, ...registerCommands(server, pages), WrittenTexts.register(server));
  await server.start();
}

export async function deactivate(): Promise<void> {
  await server?.stop();
}
