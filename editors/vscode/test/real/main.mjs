// The extension in a real editor: findings, hover, completion, rename, and the plan beside the text. Run by test.sh.

import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { openEditor, until } from './editor.mjs';
import { text, placeOf, WRONG } from './farm.mjs';
import { Hands } from './hands.mjs';

const pictures = process.env.PICTURES;
mkdirSync(pictures, { recursive: true });
const { page, close, said } = await openEditor({ 'hens.trug': text, 'trug.root': '' });
const hands = new Hands(page);
const picture = (name) => page.screenshot({ path: `${pictures}/${name}.png` });

let doing = '';
async function step(name, does) {
  doing = name;
  const begun = Date.now();
  await does();
  await picture(name.replaceAll(' ', '-'));
  process.stdout.write(`ok  ${name}  ${Date.now() - begun} ms\n`);
}

try {
  await hands.open('hens.trug');
  const [line, column] = placeOf('10 g/kg');

  await step('a finding has its place and its code', async () => {
    await hands.command('Problems: Focus on Problems View');
    await hands.reads(
      'the Problems panel', '.markers-panel .monaco-list-rows',
      'hen-premix is 10 g/kg of the mix; its ceiling is 8 g/kg', 'harm/ceiling', `[Ln ${line}, Col ${column}]`,
    );
    await hands.command('View: Focus Active Editor Group');
  });

  await step('an amount has a hover', async () => {
    await hands.goTo(line, column);
    const hover = '.monaco-hover:not(.hidden)';
    await hands.again('a hover', () => hands.command('Show or Focus Hover'), () => hands.shows(hover, '300 g'));
    await hands.reads('the hover', hover, '300 g', 'its ceiling is 8 g/kg');
  });
  await hands.key('Escape');

  await step('names are completed', async () => {
    await hands.goTo(line, WRONG.length + 1);
    await page.keyboard.type('\nlim');
    const list = '.suggest-widget .monaco-list-rows';
    await hands.again('a list', () => hands.key('Control+Space'), () => hands.shows(list, 'limestone'));
    await hands.reads('the list', list, 'limestone');
  });
  await hands.key('Escape');
  await until('what was typed is gone', async () => {
    await hands.key('Control+Z');
    return !/^ *lim$/m.test(await hands.reads('the text', '.view-lines', 'scale kitchen'));
  });

  await step('a name is renamed everywhere', async () => {
    const [itemLine] = placeOf('ingredient soya-meal');
    await hands.goTo(itemLine, 'ingredient s'.length);
    const box = page.locator('.rename-box input');
    await hands.again('a box for the new name', () => hands.key('F2'), () => box.isVisible());
    assert.equal(await box.inputValue(), 'soya-meal');
    await box.fill('soya-cake');
    await hands.key('Enter');
    await box.waitFor({ state: 'hidden' });
    await hands.goTo(line, 1);
    const lines = await hands.reads('the text', '.view-lines', '  soya-cake ');
    assert.doesNotMatch(lines, /^ +soya-meal /m);
  });

  await step('the plan stands beside the text', async () => {
    const lens = page.locator('.codelens-decoration a', { hasText: /^plan$/ }).first();
    await hands.again('the page of the plan', () => lens.click(), () => hands.shows('.tab', 'Plan: hen-mash'));
    const { frame } = await hands.preview('a draft', (shown) => shown.includes('DRAFT') && shown.includes('Hen vitamins and minerals'));
    const rows = await frame.locator('[data-weighing]').allInnerTexts();
    assert.ok(rows.some((row) => row.includes('Hen vitamins and minerals') && row.includes('300 g')), rows.join('\n'));
    // Its script ran: it counts what is left to weigh.
    await frame.locator('.left').first().waitFor();
  });

  await step('the plan follows the text', async () => {
    await hands.goTo(line, column);
    await page.keyboard.press('Shift+End');
    await page.keyboard.type('5 g/kg');
    await hands.key('Escape');
    const { frame } = await hands.preview('no draft', (shown) => !shown.includes('DRAFT') && shown.includes('150 g'));
    const rows = await frame.locator('[data-weighing]').allInnerTexts();
    assert.ok(rows.some((row) => row.includes('Hen vitamins and minerals') && row.includes('150 g')), rows.join('\n'));
    await hands.reads('the Problems panel', '.markers-panel', 'No problems');
  });

  await step('a code has its page', async () => {
    await hands.command('Trug: Why');
    await hands.answer('harm/ceiling');
    await hands.preview('the page of the code', (shown) => shown.includes('harm/ceiling') && shown.includes('What to do'));
  });
} catch (error) {
  await picture('failed').catch(() => undefined);
  const seen = await hands.sees().catch((why) => `nothing could be read: ${why}`);
  process.stdout.write(`FAILED  ${doing}\n${error.stack}\nin the editor:\n${seen}\ncode-server said:\n${said()}\na picture is in ${pictures}/failed.png\n`);
  process.exitCode = 1;
} finally {
  await close();
}
