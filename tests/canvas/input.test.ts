import { describe, expect, it } from 'vitest';
import { type BenchKeyState, keyAnswer } from '../../app/canvas/input/keys';
import { wheelAnswer } from '../../app/canvas/input/wheel';

const turn = { deltaX: 0, deltaY: 0, deltaMode: 0, ctrlKey: false, shiftKey: false };

describe('wheel', () => {
  it('zooms with a wheel, in when turned away', () => {
    const away = wheelAnswer({ ...turn, deltaY: -120 });
    const back = wheelAnswer({ ...turn, deltaY: 120 });
    if (away.kind !== 'zoom' || back.kind !== 'zoom') throw new Error('not a zoom');
    expect(away.factor).toBeGreaterThan(1.2);
    expect(away.factor * back.factor).toBeCloseTo(1);
    expect(wheelAnswer({ ...turn, deltaMode: 1, deltaY: 3 }).kind).toBe('zoom');
  });

  it('pans with two fingers, zooms with a pinch', () => {
    expect(wheelAnswer({ ...turn, deltaX: 4, deltaY: 12 })).toEqual({ kind: 'pan', dx: -4, dy: -12 });
    expect(wheelAnswer({ ...turn, deltaY: 7 })).toEqual({ kind: 'pan', dx: 0, dy: -7 });
    expect(wheelAnswer({ ...turn, deltaY: -7, ctrlKey: true }).kind).toBe('zoom');
  });

  it('pans sideways with Shift', () => {
    expect(wheelAnswer({ ...turn, deltaY: 100, shiftKey: true })).toEqual({ kind: 'pan', dx: -100, dy: 0 });
  });
});

describe('keys', () => {
  const idle: BenchKeyState = {
    tool: 'select',
    pairing: false,
    busy: false,
    selecting: false,
    moving: false,
  };
  const press = (key: string, more = {}) => ({
    key,
    shiftKey: false,
    ctrlKey: false,
    altKey: false,
    metaKey: false,
    ...more,
  });

  it('moves with the arrows, farther with Shift', () => {
    expect(keyAnswer(press('ArrowLeft'), idle)).toEqual({ kind: 'pan', dx: 48, dy: 0 });
    const far = keyAnswer(press('ArrowDown', { shiftKey: true }), idle);
    expect(far).toEqual({ kind: 'pan', dx: 0, dy: -192 });
  });

  it('steers the pen of an offcut by millimetres', () => {
    const drawing = { ...idle, tool: 'offcut' as const };
    const steer = (x: number, y: number) => ({ kind: 'event', event: { type: 'steer', by: { x, y } } });
    expect(keyAnswer(press('ArrowRight'), drawing)).toEqual(steer(1, 0));
    expect(keyAnswer(press('ArrowDown', { shiftKey: true }), drawing)).toEqual(steer(0, -10));
    expect(keyAnswer(press('Backspace'), drawing)).toMatchObject({ event: { type: 'removeLast' } });
  });

  it('walks with brackets, also where they need Ctrl+Alt, and with full stop and comma', () => {
    const next = { kind: 'event', event: { type: 'walk', to: 'next' } };
    expect(keyAnswer(press(']', { ctrlKey: true, altKey: true }), idle)).toEqual(next);
    expect(keyAnswer(press('.'), idle)).toEqual(next);
    expect(keyAnswer(press(','), idle)).toEqual({ kind: 'event', event: { type: 'walk', to: 'previous' } });
  });

  it('leaves to the page what the bench has no use for', () => {
    expect(keyAnswer(press('Tab'), idle)).toBeNull();
    expect(keyAnswer(press('+'), idle)).toBeNull();
    expect(keyAnswer(press('Escape'), idle)).toBeNull();
    expect(keyAnswer(press('Backspace'), idle)).toBeNull();
    expect(keyAnswer(press('ArrowDown', { altKey: true }), idle)).toBeNull();
    expect(keyAnswer(press('z', { ctrlKey: true }), idle)).toBeNull();
  });

  it('takes Escape and Backspace when there is something to drop', () => {
    expect(keyAnswer(press('Escape'), { ...idle, selecting: true })?.kind).toBe('event');
    expect(keyAnswer(press('Escape'), { ...idle, tool: 'chain' })?.kind).toBe('event');
    expect(keyAnswer(press('Backspace'), { ...idle, tool: 'tape' })?.kind).toBe('event');
    expect(keyAnswer(press('Delete'), { ...idle, tool: 'pair', pairing: true })?.kind).toBe('event');
  });
});
