/** What the command line needs from its host; tests hand in their own. */
export interface CommandIo {
  out(text: string): void;
  error(text: string): void;
}

/** Exit statuses: done, could not be done, wrong command line. */
export const exit = { done: 0, failed: 1, usage: 2 } as const;
