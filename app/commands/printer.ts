/** What the printer does to lengths and how near it gets to the paper's edges. */
import type { PageDecisions } from '../../src/model';
import { change, command, withDocument } from './command';

type Printer = Pick<PageDecisions, 'measured' | 'reach'>;

/** Takes measured figures; what is not given stays. */
export const setPrinter = command<Partial<Printer>>({
  id: 'setPrinter',
  label: () => 'Use what the check page measured',
  enabled: withDocument,
  run: (_, printer) => change('Printer as measured', (d) => ({ ...d, pages: { ...d.pages, ...printer } })),
});

export const forgetPrinter = command({
  id: 'forgetPrinter',
  label: () => 'Print uncorrected',
  enabled: withDocument,
  run: () =>
    change('Print uncorrected', (d) => ({ ...d, pages: { ...d.pages, measured: null, reach: null } })),
});
