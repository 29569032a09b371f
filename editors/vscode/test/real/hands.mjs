// What a user does and sees in the editor.

import { until } from './editor.mjs';

/** Blanks that do not break are blanks. */
export const plain = (text) => (text ?? '').replaceAll('\u00a0', ' ').replace(/[\u200b\u200e\ufeff]/g, '');

export class Hands {
  constructor(page) {
    this.page = page;
  }

  async key(...chords) {
    for (const chord of chords) await this.page.keyboard.press(chord);
  }

  /** Opens a file from the list of the folder; the search that Ctrl+P uses is a program this editor comes without. */
  async open(name) {
    await this.page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).dblclick();
    await this.page.locator(`.tab.active[data-resource-name="${name}"]`).waitFor();
    await this.page.locator('.editor-group-container.active .view-line').first().waitFor();
  }

  /** Chooses a command by its words. */
  async command(words) {
    const input = this.page.locator('.quick-input-widget input.input');
    await this.key('F1');
    await input.waitFor();
    await input.fill(`>${words}`);
    const first = this.page.locator('.quick-input-list .monaco-list-row').first();
    await until(`the command ${words} is offered`, async () => {
      const offered = await first.textContent({ timeout: 1000 }).catch(() => '');
      return plain(offered).includes(words);
    });
    await input.press('Enter');
    // It is gone, or is what the command itself asks.
    await until(`the command ${words} is taken`, async () => {
      const left = await input.inputValue({ timeout: 1000 }).catch(() => '');
      return !(await input.isVisible()) || !left.startsWith('>');
    });
  }

  /** Answers what the editor asks for. */
  async answer(words) {
    const input = this.page.locator('.quick-input-widget input.input');
    await input.waitFor();
    await input.fill(words);
    // In the input itself, whatever else took the keys meanwhile.
    await input.press('Enter');
    await input.waitFor({ state: 'hidden' });
  }

  /** Puts the cursor at a line and a column, both from 1. */
  async goTo(line, column) {
    await this.key('Control+G');
    await this.answer(`:${line}:${column}`);
    await until(`the cursor is at ${line}:${column}`, async () => {
      return (await this.status()).includes(`Ln ${line}, Col ${column}`);
    });
  }

  async status() {
    return plain(await this.page.locator('.statusbar').innerText());
  }

  /** Does something until it is seen to be done: what an editor has just drawn may be drawn anew under the hand. */
  async again(what, does, isDone) {
    await until(what, async () => {
      if (await isDone()) return true;
      await does();
      const end = Date.now() + 5000;
      while (Date.now() < end) {
        if (await isDone()) return true;
        await new Promise((go) => setTimeout(go, 50));
      }
      return false;
    });
  }

  /** Whether something that is drawn has these words. */
  async shows(selector, words) {
    const texts = await this.page.locator(selector).filter({ visible: true }).allInnerTexts();
    return plain(texts.join('\n')).includes(words);
  }

  /** What stands where a user would look for what went wrong. */
  async sees() {
    const places = { tabs: '.tab', messages: '.notifications-toasts', lenses: '.codelens-decoration', status: '.statusbar' };
    const seen = [];
    for (const [what, selector] of Object.entries(places)) {
      const texts = await this.page.locator(selector).allInnerTexts();
      seen.push(`${what}: ${plain(texts.join(' | ')).replace(/\s+/g, ' ')}`);
    }
    return seen.join('\n');
  }

  /** What an element says, once it says all of these. */
  async reads(what, selector, ...words) {
    let last = '';
    try {
      return await until(`${what} says ${words.join(', ')}`, async () => {
        const texts = await this.page.locator(selector).allInnerTexts();
        last = plain(texts.join('\n'));
        return words.every((word) => last.includes(word)) && last;
      });
    } catch (error) {
      throw new Error(`${error.message}\n${what} says:\n${last}`);
    }
  }

  /** The page beside the text, once what stands in it fits. */
  async preview(what, fits) {
    let last = 'no page';
    try {
      return await until(`the page shows ${what}`, async () => {
        for (const frame of this.page.frames()) {
          const body = await frame.evaluate(() => document.body?.innerText ?? '').catch(() => '');
          // The editor's own frames hold programs.
          if (frame === this.page.mainFrame() || body.trim() === '' || frame.url().includes('ExtensionHost')) continue;
          last = plain(body);
          if (fits(last)) return { frame, text: last };
        }
        return undefined;
      });
    } catch (error) {
      throw new Error(`${error.message}\nthe page shows:\n${last}`);
    }
  }
}
