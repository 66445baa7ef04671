/** How long a search may take, and how it asks. */
import type { Work } from '../base';

/** Seconds on a clock, or evaluations where the same answer is wanted every time on every machine. */
export type Effort =
  | { readonly kind: 'seconds'; readonly seconds: number }
  | { readonly kind: 'evaluations'; readonly evaluations: number };

/** Seconds since some moment: wall clock in the app, processor time in measurements. */
export type Clock = () => number;

/** Asked between passes. */
export class Budget {
  private readonly start: number;
  private lastBreath: number;
  private last = 0;
  private asked = 0;

  constructor(
    private readonly effort: Effort,
    private readonly clock: Clock,
    private readonly evaluations: () => number,
    private readonly work: Work,
    private readonly what: string,
  ) {
    this.start = clock();
    this.lastBreath = this.start;
  }

  /** The clock is asked every few times only: processor clocks are slow. */
  private now(): number {
    if ((this.asked++ & 7) === 0) this.last = this.clock();
    return this.last;
  }

  /** The part of the budget that is used up; 1 and more: over. */
  spent(): number {
    return this.effort.kind === 'seconds'
      ? (this.now() - this.start) / Math.max(1e-9, this.effort.seconds)
      : this.evaluations() / Math.max(1, this.effort.evaluations);
  }

  seconds(): number {
    return this.clock() - this.start;
  }

  /** Lets the host breathe now and then. @throws Cancelled */
  async breathe(): Promise<void> {
    const now = this.now();
    if (now - this.lastBreath < 0.04) return;
    this.lastBreath = now;
    await this.work.step(Math.min(1000, Math.round(this.spent() * 1000)), 1000, this.what);
  }
}
