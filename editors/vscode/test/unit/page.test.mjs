// A page is never older than the text for longer than one answer takes, and never asked for twice at once.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { load } from './load.mjs';

function opened(ask) {
  const panel = { webview: { html: '' }, active: false, title: '', onDidDispose() {}, reveal() {}, dispose() {} };
  const vscode = { ViewColumn: { Beside: -2 }, window: { createWebviewPanel: () => panel } };
  return load('page', vscode).then(({ Page }) => ({ panel, page: new Page({}, 'Plan: mash', ask, () => undefined) }));
}

test('changes while an answer is awaited are asked for once, after it', async () => {
  const waiting = [];
  const { page, panel } = await opened(() => new Promise((answer) => waiting.push(answer)));
  const all = Promise.all([page.refresh(), page.refresh(), page.refresh()]);
  assert.equal(waiting.length, 1);
  waiting[0]('old');
  await new Promise(setImmediate);
  assert.equal(waiting.length, 2);
  waiting[1]('new');
  await all;
  assert.equal(waiting.length, 2);
  assert.equal(panel.webview.html, 'new');
});

test('a page that is not to be had takes the place of the old one', async () => {
  const answers = [() => Promise.resolve('<p>60 kg</p>'), () => Promise.reject(new Error('there is no <ration>'))];
  const { page, panel } = await opened(() => answers.shift()());
  await page.refresh();
  assert.equal(panel.webview.html, '<p>60 kg</p>');
  await page.refresh();
  assert.ok(panel.webview.html.includes('there is no &#60;ration&#62;'), panel.webview.html);
  assert.ok(panel.webview.html.includes("default-src 'none'"));
  assert.ok(!panel.webview.html.includes('60 kg'));
});

test('a page that nobody keeps up to date shows no plan', async () => {
  const { page, panel } = await opened(() => Promise.resolve('<p>60 kg</p>'));
  await page.refresh();
  page.markStill();
  assert.ok(panel.webview.html.includes('the server has stopped') && !panel.webview.html.includes('60 kg'));
});
