/** Nesting behind messages, on a port that is played by hand. */
import { describe, expect, it } from 'vitest';
import { nestOverlap } from '../../src/nest';
import { type NestReply, type NestRequest, serveNest } from '../../src/worker';
import { blob, panel, rectangle } from '../nest/support';

const panels = Array.from({ length: 5 }, (_, k) => panel(`p${k}`, blob(k + 1, 90, 12), { turns: 'half' }));
const sheets = [rectangle('s', 300, 200)];
const order = (serial: number, seconds: number): NestRequest => ({
  kind: 'nest',
  serial,
  panels,
  sheets,
  gap: 3,
  margin: 5,
  seed: 1,
  seconds,
});

function port() {
  const replies: NestReply[] = [];
  const waiting = new Map<string, (reply: NestReply) => void>();
  let time = 0;
  const receive = serveNest({
    send: (reply) => {
      replies.push(reply);
      waiting.get(`${reply.kind} ${reply.serial}`)?.(reply);
    },
    breathe: () => new Promise((resolve) => setTimeout(resolve)),
    // Every look at the clock takes 5 ms.
    now: () => {
      time += 5;
      return time;
    },
  });
  const reply = (kind: NestReply['kind'], serial: number) =>
    new Promise<NestReply>((resolve) => waiting.set(`${kind} ${serial}`, resolve));
  return { replies, receive, reply };
}

describe('nesting in a worker', () => {
  it('sends sound layouts as they are found, then the end', async () => {
    const { replies, receive, reply } = port();
    const ended = reply('ended', 1);
    receive(order(1, 0.5));
    expect(await ended).toEqual({ kind: 'ended', serial: 1, stopped: false });
    const layouts = replies.flatMap((r) => (r.kind === 'layout' ? [r.layout] : []));
    expect(layouts.length).toBeGreaterThan(0);
    for (const l of layouts) expect(nestOverlap(panels, sheets, l.placed, l.left, 3, 5)).toEqual([]);
    expect(replies[replies.length - 1]!.kind).toBe('ended');
  });

  it('stops when told, and a newer search overtakes', async () => {
    const { receive, reply } = port();
    const first = reply('ended', 1);
    const second = reply('ended', 2);
    receive(order(1, 1e6));
    await reply('progress', 1);
    receive(order(2, 1e6));
    expect(await first).toEqual({ kind: 'ended', serial: 1, stopped: true });
    await reply('progress', 2);
    receive({ kind: 'stop' });
    expect(await second).toEqual({ kind: 'ended', serial: 2, stopped: true });
  });

  it('sends a first layout before anything else, even when it is stopped at once', async () => {
    const { replies, receive, reply } = port();
    const ended = reply('ended', 1);
    receive(order(1, 1e6));
    expect(replies[0]!.kind).toBe('layout');
    receive({ kind: 'stop' });
    await ended;
    const [first] = replies;
    if (first?.kind !== 'layout') throw new Error('no layout');
    expect(first.layout.placed).toHaveLength(panels.length);
    expect(nestOverlap(panels, sheets, first.layout.placed, first.layout.left, 3, 5)).toEqual([]);
    expect(replies.map((r) => r.kind)).toEqual(['layout', 'progress', 'ended']);
  });

  it('says what went wrong', async () => {
    const { receive, reply } = port();
    const failed = reply('failed', 1);
    receive({ ...(order(1, 1) as Extract<NestRequest, { kind: 'nest' }>), gap: -1 });
    const answer = await failed;
    expect(answer.kind === 'failed' && answer.issues).toHaveLength(1);
  });
});
