// What package.json says is true: of the sources, of the server's settings, of the files that are packed.

import assert from 'node:assert/strict';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';
import { listFiles } from '@vscode/vsce';

const here = new URL('../../', import.meta.url);
const read = (path) => readFileSync(new URL(path, here), 'utf8');
const manifest = JSON.parse(read('package.json'));
const { contributes } = manifest;
const sorted = (all) => [...new Set(all)].sort();
const found = (text, pattern) => sorted([...text.matchAll(pattern)].map(([, name]) => name));

test('its version is that of the program', () => {
  assert.ok(read('../../Cargo.toml').includes(`[workspace.package]\nversion = "${manifest.version}"`));
});

test('every command that is offered is there, and the other way round', () => {
  const declared = sorted(contributes.commands.map(({ command }) => command));
  assert.deepEqual(declared, found(read('src/commands.ts'), /register\('([^']+)'/g));
  const menus = Object.values(contributes.menus).flat().map(({ command }) => command);
  for (const command of menus) assert.ok(declared.includes(command), command);
  const steps = JSON.stringify(contributes.walkthroughs);
  for (const command of found(steps, /\b(?:command|onCommand):(trug\.\w+)/g)) assert.ok(declared.includes(command), command);
});

test('none of them is a command of the server, which the client registers itself', () => {
  const servers = found(read('../../crates/trug-lsp/src/requests/command.rs'), /"(trug\.\w+)";/g);
  assert.deepEqual(servers, ['trug.analyse', 'trug.balance', 'trug.plan', 'trug.used', 'trug.why']);
  for (const { command } of contributes.commands) assert.ok(!servers.includes(command), command);
});

test('the settings are those the server reads', () => {
  const settings = Object.keys(contributes.configuration.properties);
  const words = found(read('../../crates/trug-lsp/src/settings.rs'), /^ {16}"(\w+)" =>/gm);
  const hints = found(read('../../crates/trug-lsp/src/requests/inlay_hint.rs'), /has\("(\w+)"\)/g);
  const servers = words.flatMap((word) => (word === 'hints' ? hints.map((hint) => `hints.${hint}`) : [word]));
  const own = ['path', 'trace.server'];
  assert.deepEqual(sorted(settings), sorted([...servers, ...own].map((name) => `trug.${name}`)));
});

test('what the README lists is what there is', () => {
  const readme = read('README.md');
  for (const { category, title } of contributes.commands) assert.ok(readme.includes(`| ${category}: ${title} |`), title);
  for (const name of Object.keys(contributes.configuration.properties)) {
    assert.ok(readme.includes(`\`${name}\``) || readme.includes(`\`.${name.split('.').at(-1)}\``), name);
  }
});

test('snippets make whole items, and fill in no amount', () => {
  const snippets = JSON.parse(read('snippets.json'));
  assert.deepEqual(sorted(Object.keys(snippets)), [
    'group', 'ingredient', 'lot', 'method', 'ration', 'record', 'scale', 'targets', 'vessel',
  ]);
  for (const [name, { prefix, body }] of Object.entries(snippets)) {
    assert.equal(prefix, name);
    assert.match(body[0], new RegExp(`^${name} \\$\\{1:name\\}`));
    for (const line of body) assert.doesNotMatch(line.replace(/\$\{\d+:|\$0|1 in /g, ''), /\d/, line);
    for (const line of body.slice(1, -1)) assert.match(line, /^ {2}\S/);
  }
});

test('what is packed is what it needs', async () => {
  const packed = sorted(await listFiles({ cwd: here.pathname, dependencies: false }));
  const pages = readdirSync(new URL('walkthrough/', here)).map((name) => `walkthrough/${name}`);
  assert.deepEqual(packed, sorted([
    'LICENSE-APACHE', 'LICENSE-MIT', 'README.md', 'dist/NOTICES.txt', 'dist/extension.js', 'language-configuration.json',
    'package.json', 'snippets.json', 'syntaxes/trug.tmLanguage.json', ...pages,
  ]));
  const named = [
    manifest.main, ...contributes.languages.map((one) => one.configuration), ...contributes.grammars.map((one) => one.path),
    ...contributes.snippets.map((one) => one.path), ...contributes.walkthroughs[0].steps.map((one) => one.media.markdown),
  ];
  for (const path of named) assert.ok(existsSync(new URL(path, here)) && packed.includes(path.replace('./', '')), path);
  for (const name of ['LICENSE-MIT', 'LICENSE-APACHE']) assert.equal(read(name), read(`../../${name}`));
});
