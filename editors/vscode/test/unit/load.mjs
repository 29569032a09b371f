// Loads a file of src/ under node, with the part of the editor a test hands in.

import { build } from 'esbuild';

let times = 0;

/** The source's exports; `vscode` is what it finds under that name. */
export async function load(name, vscode = {}) {
  globalThis.trugTestEditor = vscode;
  const stand = {
    name: 'stand',
    setup({ onResolve, onLoad }) {
      onResolve({ filter: /^vscode$/ }, () => ({ path: 'vscode', namespace: 'stand' }));
      onLoad({ filter: /.*/, namespace: 'stand' }, () => ({ contents: 'module.exports = globalThis.trugTestEditor' }));
    },
  };
  const entry = new URL(`../../src/${name}.ts`, import.meta.url).pathname;
  const { outputFiles } = await build({
    entryPoints: [entry], bundle: true, write: false, format: 'esm', platform: 'node', plugins: [stand],
  });
  // An address that was imported before would be the module of before.
  times += 1;
  const source = Buffer.concat([outputFiles[0].contents, Buffer.from(`\n// ${times}`)]);
  return import(`data:text/javascript;base64,${source.toString('base64')}`);
}
