// What happens when a lens or an action names one of the server's commands: the editor shows what the server would only
// answer.

import * as vscode from 'vscode';
import type { Middleware } from 'vscode-languageclient/node';

import { isKind, type Pages } from './pages';
import { showWhy } from './texts';

interface WirePosition {
  line: number;
  character: number;
}

interface WireLocation {
  uri: string;
  range: { start: WirePosition; end: WirePosition };
}

export function middleware(pages: Pages): Middleware {
  return {
    executeCommand: async (command, args: unknown[], next) => {
      const [first, second, third] = args;
      if (isKind(command) && typeof first === 'string') {
        return pages.show(command, vscode.Uri.parse(first), typeof second === 'string' ? second : undefined);
      }
      if (command === 'trug.why' && typeof first === 'string') return showWhy(first);
      if (command === 'trug.used' && typeof first === 'string' && Array.isArray(third)) {
        return showPlaces(first, second as WirePosition, third as WireLocation[]);
      }
      return next(command, args);
    },
  };
}

async function showPlaces(uri: string, from: WirePosition, places: WireLocation[]): Promise<void> {
  await vscode.commands.executeCommand(
    'editor.action.showReferences',
    vscode.Uri.parse(uri),
    position(from),
    places.map(({ uri, range }) => {
      return new vscode.Location(vscode.Uri.parse(uri), new vscode.Range(position(range.start), position(range.end)));
    }),
  );
}

function position({ line, character }: WirePosition): vscode.Position {
  return new vscode.Position(line, character);
}
