// The farm of the test: an example of the repository, with twice the dose the label allows.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const EXAMPLE = new URL('../../../../examples/small/hens.trug', import.meta.url);
const RIGHT = '  hen-premix     5 g/kg';
export const WRONG = '  hen-premix     10 g/kg';

export const example = readFileSync(EXAMPLE, 'utf8');
assert.ok(example.includes(RIGHT), 'the example is no longer the one this test is written for');
export const text = example.replace(RIGHT, WRONG);

/** Where words stand in the text: line and column from 1. */
export function placeOf(words) {
  const offset = text.indexOf(words);
  assert.notEqual(offset, -1, `${words} is not in the text`);
  const before = text.slice(0, offset).split('\n');
  return [before.length, before.at(-1).length + 1];
}
