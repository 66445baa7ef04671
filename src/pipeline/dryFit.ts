/** The dry fit of a finished run: only when it is asked for, and remembered as long as nothing that it rests on changes. */
import { fail, type Issue, type Outcome, succeed, type Work } from '../base';
import { dryFit } from '../dryfit';
import type { DryFit, ProjectDocument, Results } from '../model';
import { cutOf } from './cut';
import { createMemo } from './memo';

const without = (message: string, remedy: string): Issue => ({
  code: 'no-dry-fit',
  severity: 'error',
  stage: 'foam',
  message,
  remedy,
  place: {},
});

/** @throws Cancelled through `work` */
export type DryFitter = (
  results: Results,
  document: Pick<ProjectDocument, 'decisions'>,
  work: Work,
) => Promise<Outcome<DryFit>>;

/**
 * Keeps the last dry fit with the panels that it was made of.
 * @param brief only the panels as designed, without what another foam and the bare paper would leave
 */
export function createDryFitter({ brief = false }: { readonly brief?: boolean } = {}): DryFitter {
  const memo = createMemo<DryFit>();
  return async ({ recut, fit, foam: made }, { decisions }, work) => {
    if (!recut || !fit || !made)
      return fail(
        without(
          'There are no panels to put together yet.',
          'Look at the findings of the earlier steps first.',
        ),
      );
    // Parts beside the shell's panels have no place among them.
    const foam = { ...made, panels: made.panels.filter((panel) => !panel.extra) };
    const { surface } = cutOf(recut, fit, decisions.shell);
    if (!surface || foam.panels.every((panel) => !panel.body))
      return fail(
        without(
          'A dry fit puts the panels on the folded shell, and there is none that can be trusted.',
          'Pair the open edges until the pattern folds up, or say in the Seams step that the shell may be taken as it is.',
        ),
      );
    const { shell, places } = surface;
    const brow = fit.shell?.insideBrow.plane ?? null;
    return succeed(
      await memo.recallLater([recut, fit, made, decisions.foam, decisions.shell], () =>
        dryFit({ foam, decisions: decisions.foam, shell, places, brow, brief }, work),
      ),
    );
  };
}
