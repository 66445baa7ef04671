/**
 * Two ways to work the page: with a pointer, and with the keyboard alone. The keyboard hand never calls anything that
 * moves a mouse or sets focus from outside: it walks with Tab like a person does, so that a control that cannot be
 * reached that way fails the journey.
 */
import { expect, type Locator, type Page } from '@playwright/test';

export interface Hand {
  readonly name: 'pointer' | 'keyboard';
  /** A button or a link. */
  press(button: Locator): Promise<void>;
  /** Puts a text into a field, in place of what is there, and commits it. */
  write(field: Locator, text: string): Promise<void>;
  /** Takes one of a group of radio buttons. */
  choose(radio: Locator): Promise<void>;
  /** Turns a box on or off. */
  tick(box: Locator): Promise<void>;
  /** Takes the option with this text from a list. */
  pick(list: Locator, option: string): Promise<void>;
  /** Opens a folded part by its title. */
  unfold(part: Locator): Promise<void>;
}

export const handNames = ['pointer', 'keyboard'] as const;
export type HandName = (typeof handNames)[number];

export const handOf = (name: Hand['name'], page: Page): Hand =>
  name === 'pointer' ? pointer(page) : keyboard(page);

function pointer(page: Page): Hand {
  return {
    name: 'pointer',
    press: (button) => button.click(),
    async write(field, text) {
      await field.click({ clickCount: 3 });
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    },
    choose: (radio) => radio.click(),
    tick: (box) => box.click(),
    async pick(list, option) {
      await list.selectOption({ label: await labelOf(list, option) });
    },
    async unfold(part) {
      if (!(await isOpen(part))) await part.locator('summary').click();
    },
  };
}

/** A page has far fewer stops than this; more means that the control cannot be reached. */
const mostStops = 400;

/** Walks with Tab, or with Shift+Tab when it lies before, until the focus is on this element or inside it. */
export async function tabTo(page: Page, place: Locator): Promise<void> {
  await place.waitFor();
  for (let stop = 0; stop < mostStops; stop++) {
    const way = await place.evaluate((element) => {
      const now = document.activeElement;
      if (element.contains(now)) return 'here';
      const before = now && now.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_PRECEDING;
      return before ? 'Shift+Tab' : 'Tab';
    });
    if (way === 'here') return;
    await page.keyboard.press(way);
  }
  throw new Error(`No way with Tab to ${place}`);
}

function keyboard(page: Page): Hand {
  const press = async (key: string, times = 1) => {
    for (let i = 0; i < times; i++) await page.keyboard.press(key);
  };
  return {
    name: 'keyboard',
    async press(button) {
      await tabTo(page, button);
      await press('Enter');
    },
    async write(field, text) {
      await tabTo(page, field);
      await press('Control+a');
      await page.keyboard.type(text);
      await press('Enter');
    },
    async choose(radio) {
      // A group has one stop: its chosen button or, when none is chosen, the one at the end it is entered by.
      const group = radio.locator('xpath=ancestor::fieldset');
      await tabTo(page, group);
      if ((await group.locator('input:checked').count()) === 0) await press('Space');
      const steps = await radio.evaluate((wanted) => {
        const all = [...(wanted.closest('fieldset')?.querySelectorAll('input') ?? [])];
        const at = (element: Element | null) => all.indexOf(element as HTMLInputElement);
        return at(wanted) - at(document.activeElement);
      });
      await press(steps > 0 ? 'ArrowDown' : 'ArrowUp', Math.abs(steps));
      await expect(radio).toBeChecked();
    },
    async tick(box) {
      await tabTo(page, box);
      await press('Space');
    },
    async pick(list, option) {
      await tabTo(page, list);
      const label = await labelOf(list, option);
      const steps = await list.evaluate(
        (element, wanted) =>
          [...(element as HTMLSelectElement).options].findIndex((o) => o.label === wanted) -
          (element as HTMLSelectElement).selectedIndex,
        label,
      );
      await press(steps > 0 ? 'ArrowDown' : 'ArrowUp', Math.abs(steps));
      await expect(list.locator('option:checked')).toHaveText(label);
    },
    async unfold(part) {
      if (await isOpen(part)) return;
      await tabTo(page, part.locator('summary'));
      await press('Enter');
    },
  };
}

const isOpen = (part: Locator) => part.evaluate((element) => (element as HTMLDetailsElement).open);

/** The label of the one option that begins so. */
async function labelOf(list: Locator, beginning: string): Promise<string> {
  const labels = await list.locator('option').allTextContents();
  const fitting = labels.filter((label) => label.startsWith(beginning));
  expect(fitting, `options that begin with “${beginning}”`).toHaveLength(1);
  return fitting[0]!;
}
