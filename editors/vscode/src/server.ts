// The language server: found, started, stopped, and asked.

import * as vscode from 'vscode';
import { LanguageClient, State, type LanguageClientOptions, type ServerOptions } from 'vscode-languageclient/node';

import { program } from './program';
import { middleware } from './middleware';
import type { Pages } from './pages';

const ID = 'trug';

export class Server {
  /** What the server and this extension write down. */
  readonly output = vscode.window.createOutputChannel('trug');
  private client: LanguageClient | undefined;

  constructor(private readonly pages: Pages) {
    pages.ask = (command, uri, ration) => this.execute<string>(command, [uri.toString(), ration]);
  }

  async start(): Promise<void> {
    const command = program();
    const client = new LanguageClient(ID, 'trug', this.how(command), this.wishes());
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) this.pages.refreshAll();
      if (newState === State.Stopped) this.pages.markStill();
    });
    client.onNotification('trug/planChanged', ({ uri }: { uri: string }) => this.pages.refresh(vscode.Uri.parse(uri)));
    this.client = client;
    try {
      await client.start();
    } catch (error) {
      this.client = undefined;
      await client.dispose().catch(() => undefined);
      this.output.appendLine(String(error));
      // Nobody waits for the answer: it may never be given.
      void this.tellNotStarted(command);
    }
  }

  async stop(): Promise<void> {
    const client = this.client;
    this.client = undefined;
    await client?.dispose().catch(() => undefined);
  }

  async restart(): Promise<void> {
    await this.stop();
    await this.start();
  }

  /** What one of the server's commands answers. */
  async execute<T>(command: string, args: unknown[]): Promise<T> {
    return this.request<T>('workspace/executeCommand', { command, arguments: args });
  }

  /** What the server answers. */
  async request<T>(method: string, params: unknown): Promise<T> {
    if (!this.client) throw new Error('the server is not running: “Trug: Restart the server” starts it');
    return this.client.sendRequest<T>(method, params);
  }

  private how(command: string): ServerOptions {
    return { command, args: ['lsp'] };
  }

  private wishes(): LanguageClientOptions {
    return {
      documentSelector: [
        { language: 'trug', scheme: 'file' },
        { language: 'trug', scheme: 'untitled' },
        { language: 'trug', scheme: 'trug' },
      ],
      // What is asked first is answered under the settings already; the server asks for changes itself.
      initializationOptions: vscode.workspace.getConfiguration('trug'),
      synchronize: { configurationSection: 'trug' },
      outputChannel: this.output,
      middleware: middleware(this.pages),
    };
  }

  private async tellNotStarted(command: string): Promise<void> {
    const where = 'Say where it is';
    const how = 'How to install it';
    const told = `trug did not start: the editor looked for the program ${command}`;
    const chosen = await vscode.window.showErrorMessage(told, where, how);
    if (chosen === where) await vscode.commands.executeCommand('workbench.action.openSettings', 'trug.path');
    if (chosen === how) await vscode.commands.executeCommand('workbench.action.openWalkthrough', 'trug.trug#begin');
  }
}
