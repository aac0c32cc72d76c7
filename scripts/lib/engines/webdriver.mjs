// A page of a browser, asked by the commands of WebDriver (W3C Recommendation), whatever carries them there.

/** The key under which an element is handed over (WebDriver, 12, "web element identifier"). */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
/** Keys that have no sign of their own (WebDriver, 15.4.2, "normalised key values"). */
const KEYS = new Map([
  ['Tab', '\uE004'],
  ['Enter', '\uE007'],
  ['Control', '\uE009'],
  ['Escape', '\uE00C'],
  ['ArrowLeft', '\uE012'],
  ['ArrowUp', '\uE013'],
  ['ArrowRight', '\uE014'],
  ['ArrowDown', '\uE015'],
]);
/** How often something awaited is looked for, and for how long. */
const EVERY_MS = 100;
const AWAITED_MS = 120_000;
/** What is out of sight comes into it by then. */
const SCROLLED_MS = 10_000;
/** An answer that takes longer does not come. */
const ANSWERED_MS = 60_000;

/** Elements that have a role by themselves, or are given it; those that a player meets. */
const ROLES = /** @type {const} */ ({
  button: 'button, summary, [role="button"]',
  link: 'a[href]',
  textbox: 'textarea, input:not([type]), input[type="text"]',
  combobox: 'select',
  checkbox: 'input[type="checkbox"], [role="switch"]',
  slider: 'input[type="range"], [role="slider"]',
  gridcell: '[role="gridcell"], td',
  heading: 'h1, h2, h3',
});

/**
 * The first visible element of a role whose name fits; in the page. Names are told as a screen reader has them, as
 * far as this program goes: `aria-labelledby`, `aria-label`, a label's text, the element's own.
 */
const FIND = `
  const [selector, source, flags] = args;
  const wanted = new RegExp(source, flags);
  const textOf = (element) => (element.textContent ?? '').replace(/\\s+/gu, ' ').trim();
  const nameOf = (element) => {
    const by = element.getAttribute('aria-labelledby');
    if (by) return by.split(/\\s+/u).map((id) => document.getElementById(id)).filter(Boolean).map(textOf).join(' ');
    const label = element.getAttribute('aria-label');
    if (label) return label;
    return element.labels?.length > 0 ? [...element.labels].map(textOf).join(' ') : textOf(element);
  };
  return [...document.querySelectorAll(selector)].find(
    (element) => element.getClientRects().length > 0 && wanted.test(nameOf(element)),
  );`;

/**
 * What carries a command to a browser and gives its answer; the names of commands are those of Marionette.
 *
 * @typedef {(command: string, parameters?: Record<string, unknown>) => Promise<any>} Send
 * @typedef {Record<string, string>} Element
 */

/** The browser does not answer any more, which is no word about the page. */
export class Unanswered extends Error {
  /** @param {string} command */
  constructor(command) {
    super(`no answer to ${command}`);
  }
}

export class Page {
  /** @type {Send} */
  #send;

  /** @param {Send} send */
  constructor(send) {
    this.#send = (command, parameters) => {
      /** @type {NodeJS.Timeout | undefined} */
      let patience;
      const late = new Promise((_done, failed) => {
        patience = setTimeout(() => failed(new Unanswered(command)), ANSWERED_MS);
      });
      return Promise.race([send(command, parameters), late]).finally(() => clearTimeout(patience));
    };
  }

  /** @param {string} address */
  async open(address) {
    await this.#send('WebDriver:Navigate', { url: address });
  }
  /** As a player does it; Firefox takes the driver's own command for a reload that passes all that is kept by. */
  async reload() {
    await this.run('window.beforeReload = true; setTimeout(() => location.reload());');
    const end = Date.now() + AWAITED_MS;
    const there = "return window.beforeReload === undefined && document.readyState === 'complete';";
    // a page that goes away answers nothing
    while (!(await this.run(there).catch(() => false))) {
      if (Date.now() > end) throw new Error('the page does not come back');
      await new Promise((done) => setTimeout(done, EVERY_MS));
    }
  }
  /** @returns {Promise<string>} */
  address() {
    return this.#send('WebDriver:GetCurrentURL');
  }

  /**
   * Gives the page itself a size in CSS pixels, as near as the window goes.
   *
   * @param {number} width
   * @param {number} height
   */
  async resize(width, height) {
    let around = [0, 0];
    // what the window has around its page is known only from a first try
    for (let turn = 0; turn < 2; turn += 1) {
      const [more = 0, higher = 0] = around;
      await this.#send('WebDriver:SetWindowRect', { width: width + more, height: height + higher });
      await new Promise((done) => setTimeout(done, 200));
      const [w, h] = await this.run('return [innerWidth, innerHeight];');
      around = [more + width - w, higher + height - h];
    }
  }

  /** What is in view, as PNG. */
  async picture() {
    const text = await this.#send('WebDriver:TakeScreenshot', { full: false });
    return Buffer.from(text, 'base64');
  }

  /**
   * What the body of an asynchronous function with `args` gives in the page.
   *
   * @param {string} body
   * @param {...unknown} args
   */
  async run(body, ...args) {
    const script = `
      const done = arguments[arguments.length - 1];
      const told = (error) => done({ thrown: String(error) });
      (async (...args) => { ${body} })(...[...arguments].slice(0, -1)).then((value) => done({ value }), told);`;
    const answer = await this.#send('WebDriver:ExecuteAsyncScript', { script, args });
    if (answer.thrown !== undefined) throw new Error(answer.thrown);
    return answer.value;
  }

  /**
   * Waits until the body of a function gives something that counts as true, and gives that.
   *
   * @param {string} what the sentence "there is no …" goes on so where it never does
   * @param {string} body
   * @param {...unknown} args
   */
  async wait(what, body, ...args) {
    const end = Date.now() + AWAITED_MS;
    for (;;) {
      const found = await this.run(body, ...args);
      if (found) return found;
      if (Date.now() > end) throw new Error(`there is no ${what}`);
      await new Promise((done) => setTimeout(done, EVERY_MS));
    }
  }

  /**
   * The first visible element of a role with such a name, as soon as there is one.
   *
   * @param {keyof typeof ROLES} role
   * @param {RegExp} name
   * @returns {Promise<Element>}
   */
  get(role, name) {
    return this.wait(`${role} ${name}`, FIND, ROLES[role], name.source, name.flags);
  }
  /** Waits for a text somewhere in the page. @param {RegExp} text @param {string} within a selector */
  text(text, within = 'body') {
    return this.wait(
      `text ${text}`,
      `const pattern = new RegExp(args[1], args[2]);
       for (const each of document.querySelectorAll(args[0])) {
         const found = pattern.exec((each.textContent ?? '').replace(/\\s+/gu, ' '));
         if (found) return [...found];
       }`,
      within,
      text.source,
      text.flags,
    );
  }

  /** @param {keyof typeof ROLES} role @param {RegExp} name */
  async press(role, name) {
    const end = Date.now() + SCROLLED_MS;
    for (;;) {
      const element = await this.get(role, name);
      try {
        await this.click(element);
        return;
      } catch (error) {
        if (!String(error).includes('not interactable') || Date.now() > end) throw error;
        // out of sight in a part that scrolls by itself: a player scrolls there
        await this.run("args[0].scrollIntoView({ block: 'center' });", element);
        await new Promise((done) => setTimeout(done, EVERY_MS));
      }
    }
  }
  /** @param {Element} element */
  async click(element) {
    await this.#send('WebDriver:ElementClick', { id: element[ELEMENT] });
  }
  /** Writes a text into a field in the place of what it holds. @param {RegExp} field @param {string} text */
  async fill(field, text) {
    const element = await this.get('textbox', field);
    // by keys, since WebKit's driver writes into nothing that is shown only once it has the focus
    await this.run('args[0].focus();', element);
    await this.keys('Control+a', ...text);
  }
  /**
   * Opens files as if they were chosen from the device.
   *
   * @param {RegExp} button
   * @param {readonly { name: string, text: string }[]} files
   */
  async openFiles(button, files) {
    await this.wait(
      `way to open files ${button}`,
      `const [source, flags, files] = args;
       const label = [...document.querySelectorAll('label')].find(({ textContent }) => new RegExp(source, flags).test(textContent.trim()));
       if (label === undefined) return false;
       const chosen = new DataTransfer();
       for (const { name, text } of files) chosen.items.add(new File([text], name, { type: 'text/plain' }));
       const field = label.querySelector('input[type="file"]');
       field.files = chosen.files;
       field.dispatchEvent(new Event('change', { bubbles: true }));
       return true;`,
      button.source,
      button.flags,
      files,
    );
  }
  /** Chooses what a menu offers. @param {RegExp} menu @param {RegExp} offer */
  async choose(menu, offer) {
    const element = await this.get('combobox', menu);
    const option = await this.run(
      'return [...args[0].options].find((each) => new RegExp(args[1], args[2]).test(each.textContent));',
      element,
      offer.source,
      offer.flags,
    );
    if (!option) throw new Error(`there is no offer ${offer} in the menu ${menu}`);
    await this.click(option);
  }
  /** Keys one after another, to whatever has the focus; `Control+z` is held together. @param {...string} keys */
  async keys(...keys) {
    const actions = keys.flatMap((key) => {
      const together = key.split(/(?<=\w)\+/u).map((each) => KEYS.get(each) ?? each);
      return [
        ...together.map((value) => ({ type: 'keyDown', value })),
        ...together.reverse().map((value) => ({ type: 'keyUp', value })),
      ];
    });
    const devices = [{ type: 'key', id: 'keys', actions }];
    await this.#send('WebDriver:PerformActions', { actions: devices });
    await this.#send('WebDriver:ReleaseActions');
  }
}
