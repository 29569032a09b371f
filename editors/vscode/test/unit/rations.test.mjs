// Which ration the cursor is in.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { load } from './load.mjs';

const { rationAt } = await load('rations');

const at = (text, line) => rationAt({ lineAt: (rank) => ({ text: text.split('\n')[rank] }) }, line);

test('a line belongs to the item above it', () => {
  const text = 'use book poultry\n\nration duck-mash "Mash"\n  maize 60 %\n# a comment\n\n\tbran rest\nscale bench 5 kg by 1 g\n';
  assert.deepEqual(text.split('\n').map((_, line) => at(text, line)), [
    undefined, undefined, 'duck-mash', 'duck-mash', 'duck-mash', 'duck-mash', 'duck-mash', undefined, undefined,
  ]);
});

test('names are of any script, and words in any case', () => {
  assert.equal(at('ration කැඩුනු-සහල්', 0), 'කැඩුනු-සහල්');
  assert.equal(at('Ration maïs like other', 0), 'maïs');
  assert.equal(at('ration', 0), undefined);
  assert.equal(at('rations a', 0), undefined);
});
