// What each character of each text is to the TextMate grammar, by the engine editors use. Run by a test:
//   node tokens.mjs GRAMMAR LIST_OF_PATHS
// Prints a line for each run of characters: the path, the line from 0, first and last byte column from 0, and what it is.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import oniguruma from 'vscode-oniguruma';
import textmate from 'vscode-textmate';

const [grammarPath, list] = process.argv.slice(2);
const { Registry, INITIAL, parseRawGrammar } = textmate;
const { loadWASM, OnigScanner, OnigString } = oniguruma;

// The scope that says most, by its first words; what stands in a text is a text.
const KINDS = [
  ['string.', 'text'],
  ['comment.', 'comment'],
  ['keyword.declaration.item.', 'item'],
  ['support.type.property-name.', 'line'],
  ['keyword.other.clause.', 'word'],
  ['keyword.other.unit.', 'unit'],
  ['keyword.operator.', 'operator'],
  ['constant.numeric.', 'number'],
  ['entity.name.type.', 'name'],
  ['variable.other.', 'name'],
];

function kindOf(scopes) {
  const found = KINDS.find(([start]) => scopes.some((scope) => scope.startsWith(start)));
  return found && found[1];
}

const engine = createRequire(import.meta.url).resolve('vscode-oniguruma/release/onig.wasm');
await loadWASM(readFileSync(engine));
const registry = new Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new OnigScanner(patterns),
    createOnigString: (text) => new OnigString(text),
  }),
  loadGrammar: async (scope) =>
    scope === 'source.trug' ? parseRawGrammar(readFileSync(grammarPath, 'utf8'), grammarPath) : null,
});
const grammar = await registry.loadGrammar('source.trug');

const found = [];
for (const path of readFileSync(list, 'utf8').split('\n').filter(Boolean)) {
  let stack = INITIAL;
  const text = readFileSync(path, 'utf8').replace(/^\ufeff/, '');
  text.split(/\r\n|\r|\n/).forEach((line, number) => {
    const read = grammar.tokenizeLine(line, stack);
    stack = read.ruleStack;
    const bytes = (end) => Buffer.byteLength(line.slice(0, end));
    for (const token of read.tokens) {
      const kind = kindOf(token.scopes);
      if (kind) found.push([path, number, bytes(token.startIndex), bytes(token.endIndex), kind].join('\t'));
    }
  });
}
process.stdout.write(found.join('\n') + '\n');
