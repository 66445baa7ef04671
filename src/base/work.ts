/**
 * Long work: progress and cancelling without any browser or Node global. A stage that may take over half a second
 * takes a {@link Work} and calls `step` between chunks of at most about 50 ms.
 */

export interface Work {
  /**
   * Reports `done` of `total` and lets the host breathe.
   * @throws Cancelled when the work is no longer wanted.
   */
  step(done: number, total: number, what: string): Promise<void>;
}

/** Thrown out of {@link Work.step} when the person, or newer work, has cancelled. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
}

/** For tests and short work: never reports, never cancels. */
export const unwatched: Work = { step: async () => {} };
