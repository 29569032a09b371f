// Bundles the extension into the one file that the editor loads, and the licences of what is bundled into another.

import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

const { metafile } = await build({
  entryPoints: ['src/extension.ts'],
  outfile: 'dist/extension.js',
  bundle: true,
  platform: 'node',
  target: 'node18',
  format: 'cjs',
  external: ['vscode'],
  minify: true,
  legalComments: 'none',
  metafile: true,
});

const folders = Object.keys(metafile.inputs).map((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0]);
const notices = [...new Set(folders)].filter(Boolean).sort().map((folder) => {
  const { name, version } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
  const licence = readdirSync(folder).find((file) => /^licen[cs]e/i.test(file));
  if (!licence) throw new Error(`${name} brings no licence along`);
  return `${name} ${version}\n\n${readFileSync(`${folder}/${licence}`, 'utf8').trim()}\n`;
});
writeFileSync('dist/NOTICES.txt', notices.join(`\n${'-'.repeat(80)}\n\n`));
